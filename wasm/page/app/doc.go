// Package app ties the page together: the session with its history, the plates, how
// they are looked at, what is printed for that, and the model of the controls. What the
// user does comes in as the text of a command; what the page shows goes out as the
// model. It knows nothing of the browser.
package app
