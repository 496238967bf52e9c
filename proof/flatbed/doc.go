// Package flatbed reads a test sheet off a flatbed scan on which a colour target lies too: it
// finds the sheet by its marks however it is turned, finds what the scanner's channels see from
// the target's reference values, and tells the densities of the sheet's patches through these
// channels. Package fit goes on from there.
//
// Places are in pixels of the scan, pixel centres at whole numbers; lengths on the sheet in mm.
package flatbed
