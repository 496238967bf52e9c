package fitness

import "math"

// Facts are what a scan shows of itself, beside its size and its densities.
type Facts struct {
	Kind    string     `json:"kind"`           // of the file: TIFF, PNG, JPEG
	Step    float64    `json:"step"`           // of its lossy compression, as in scan.Scan; 0 where nothing is lost
	Known   string     `json:"encoding_known"` // how its encoding is known: chosen, profile, declared, assumed
	PPIDown float64    `json:"ppi_down"`       // 0 where the file has none
	Codes   Codes      `json:"codes"`          // over the picture
	Streaks Streaks    `json:"streaks"`        //
	Clipped [2]float64 `json:"clipped"`        // share of the picture at the scanner's clear and black limits, 0 … 1
}

// Plate is all that Report looks at of one plate.
type Plate struct {
	Bits     int
	PPI      float64 // across, 0 where the file has none
	Encoding string  // in words
	Width    int     // of the picture within its borders, pixels
	Height   int
	Negative bool
	Gamma    float64
	Thin     float64 // densities that bound the picture
	Dense    float64
	Rebate   float64 // density of base and fog as the rebate shows it, 0 where it does not
	Blur     float64 // spread of its sharpest edges, standard deviation in key pixels; 0 where it is not known
	Facts
}

// Stops is the range of the scene's light that the plate holds, in doublings;
// atLeast where its scan clips an end.
func (p Plate) Stops() (stops float64, atLeast bool) {
	if !(p.Gamma > 0) {
		return 0, false
	}
	return max(p.Dense-p.Thin, 0) / p.Gamma / math.Log10(2), max(p.Clipped[0], p.Clipped[1]) > someClipped
}

// Weight is how much a finding matters.
type Weight string

// The weights, from what is well.
const (
	Fine Weight = "fine" // as it should be
	Mind Weight = "mind" // usable, and to be known
	Mend Weight = "mend" // to be put right before relying on the proof
)

// Finding is one thing that was looked at.
type Finding struct {
	Plate  int    `json:"plate"` // 0 to 2 for red, green and blue; All for the set
	About  string `json:"about"` // what was looked at, a noun
	Weight Weight `json:"weight"`
	Figure string `json:"figure"`       // what was measured
	Says   string `json:"says"`         // what it means, a sentence
	Do     string `json:"do,omitempty"` // what to do, a sentence; "" where nothing is
}

// All is the Plate of a finding that is of the set.
const All = -1
