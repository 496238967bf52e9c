// Package fit finds the tissues of a workshop from the readings of its test sheet:
// absorption and scattering of each layer, how its amount follows the exposure, and the
// surface, all at once, by least squares on what was read (E. Walowit, C. J. McCarthy,
// R. S. Berns, Color Res. Appl. 12, 1987, 340, for Kubelka–Munk mixtures).
//
// What the readings do not tell stays where the palette had it, and is said. Amounts
// are relative thicknesses: 1 is what the base exposure leaves.
package fit
