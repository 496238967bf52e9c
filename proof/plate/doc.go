// Package plate turns scans into the three plates of a set: which plate is
// which, negative or positive, where the picture lies, and the density planes
// that everything after works on.
//
// Densities are to base 10, D = -log10 T, with T the linear transmittance
// against the scanner's clear value, held within 0 … 4. A density plane holds
// the code round(D/4 · 65535).
package plate
