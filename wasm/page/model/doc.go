// Package model is what the controls of the page show, as plain data with the names
// that the scripts read.
//
// It is made in parts. Each part is worked out by a function of one value, which holds
// all that the part stands on, and is worked out anew only where that value has
// changed: so no part can be out of date, and a pan does not describe the tissues again.
package model
