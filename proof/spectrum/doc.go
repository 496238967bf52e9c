// Package spectrum is the colour science under the proof: spectra, lights, the
// CIE 1931 2° observer, CIELAB, CIEDE2000, densities and the way to a display.
//
// Wavelengths are in nm, 380 to 730 in steps of 5. Reflectances are 0..1 of the
// perfect diffuser. XYZ has the perfect diffuser at Y 100. CIELAB has L* 0..100.
// Densities are to base 10.
package spectrum
