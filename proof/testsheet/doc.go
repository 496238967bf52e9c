// Package testsheet lays out the sheet that a workshop prints of its own tissues and
// measures: wedges of each layer, overprints of two and three layers, a grey wedge, a
// block of greys that differ by small steps, and one patch that is repeated.
//
// Exposures are log10 of what falls through the printing negative, against the base
// exposure of the layer, which clear film lets through: 0 or less. The sheet needs no
// measured tissue; where its steps lie follows the prior of package relief.
package testsheet
