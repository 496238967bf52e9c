// Package sheet writes what leaves the tool as files that other programs read:
// pictures of 16 bits with their resolution and colour profile.
package sheet
