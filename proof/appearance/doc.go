// Package appearance shows on one screen how a print looks in rooms of other
// brightness, by the colour appearance model CIECAM16.
package appearance
