// Package icc writes ICC profiles: the display spaces that proofs are saved in,
// the grey of a film by its densities, and a recipe as an output profile, so that any program
// that reads ICC profiles can proof it: amounts of the three printers to CIELAB
// and back.
package icc
