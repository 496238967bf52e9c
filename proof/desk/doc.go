// Package desk is the life of the work on the page: which set of plates is open,
// which ones are put away and can be had back, and what is being computed.
//
// A document is one set of plates with all that was decided on it, its history of
// undo included. One is open at a time; opening another puts it away, and nothing
// that was put away is replaced or forgotten unasked.
//
// A job is work that takes longer than a frame: opening scans, registering them,
// writing files. Each has a token. What comes back under a token that is no longer
// live, or that belongs to a document that is no longer open, is dropped.
//
// The desk touches neither files nor the browser. What it wants done outside it
// writes down as orders, which the page's scripts take and carry out; what comes of
// them they report back. So all of it runs, and is tested, without a browser.
package desk
