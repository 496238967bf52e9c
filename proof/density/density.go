// Package density holds how a plate's optical density is kept: as a 16-bit code, the same
// for every plate, so that planes of density can be handed on and compared.
package density

import "math"

// Max is the density of the code 65535; see Code.
const Max = 4.0

// Code returns the code of density d, clamped to 0 … 4.
func Code(d float64) uint16 {
	return uint16(math.Round(min(max(d, 0), Max) / Max * 65535))
}

// Of returns the density of a code.
func Of(code uint16) float64 { return float64(code) * (Max / 65535) }

// Clear and Black are the last density codes that count as clipped. Below density 0.0009
// lie, of a scan's codes, only 255 at 8 bits and the highest 138 at linear 16 bits; from
// density 3.97 on only 0 at 8 bits and the lowest 8 at linear 16 bits.
const (
	Clear = 15
	Black = 65008
)

// Clipped says whether a density code lies at the scanner's clear or black limit.
func Clipped(code uint16) bool { return code <= Clear || code >= Black }
