// Package relief follows the printing light into a tissue: how high the gelatine
// hardens behind each density of a negative, what of it the wash takes, and where
// the coat is through. It gives the two ways of printing their curves: straight,
// from negatives as they are or enlarged to a stated range with one exposure a
// layer, and tuned, from negatives drawn so that neutrals print neutral.
//
// Heights are in dry µm, densities and logarithms of exposures to base 10, changes
// of an exposure in stops (doublings), amounts relative to the whole coat.
package relief
