// Package fitness judges whether scans of plates are fit for what comes after:
// what can be measured of one scan is Facts, and Report says of three what is
// wrong, by how much, and what to do.
//
// Densities are to base 10, codes as the file stores them, brought to 16 bits.
package fitness
