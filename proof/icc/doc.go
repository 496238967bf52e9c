// Package icc writes a recipe as an ICC output profile, so that any programme
// that reads ICC profiles can proof it: amounts of the three printers to CIELAB
// and back.
package icc
