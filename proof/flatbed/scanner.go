package flatbed

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/linear"
	"threeply/proof/spectrum"
)

// Scanner is what a scanner's channels see: of a surface of reflectance R a channel gives
//
//	v = Gain · (Flare + Σ w(λ) R(λ))^Gamma
//
// in the light that the scan's own curves make of its codes, with w summing to 1. Its weights
// are a bell about a wavelength and a share of the bells of the other two channels.
type Scanner struct {
	Gain, Flare, Gamma [3]float64 // by channel: red, green, blue
	Weights            [3]spectrum.Curve

	// Error is the standard deviation of a density of the target that had no part in finding the
	// scanner, over all channels.
	Error float64
}

// What a scanner is taken to be before its target is seen (assumed): middles and standard
// deviations.
var (
	bandAt   = [3]float64{605, 535, 455} // nm
	bandWide = 30.0                      // nm, the standard deviation of a bell
)

const (
	bandAtSigma    = 15.0
	bandWideSigma  = 0.4 // of its logarithm
	leakage        = 0.04
	leakageSigma   = 0.1
	flare          = 0.01
	flareSigma     = 0.02
	gammaSigma     = 0.15 // of its logarithm
	gainSigma      = 1.0  // of its logarithm
	targetSigma    = 0.01 // of a density of the target, and
	darkSigma      = 0.002
	scannerSteps   = 20
	folds          = 6
	mostError      = 0.035 // of a density; more is no scanner that sees light alone
	unknowns       = 7     // of a channel: log gain, flare, log gamma, band, log width, two leaks
	leastSensitive = 1e-9
)

// scannerOf takes the unknowns apart.
func scannerOf(x []float64) *Scanner {
	s := &Scanner{}
	var bells [3]spectrum.Curve
	for ch := range bells {
		u := x[unknowns*ch:]
		wide := bandWide * math.Exp(u[4])
		sum := 0.0
		bells[ch] = spectrum.Sample(func(nm float64) float64 {
			z := (nm - bandAt[ch] - u[3]) / wide
			return math.Exp(-z*z/2) + leastSensitive
		})
		for _, v := range bells[ch] {
			sum += v
		}
		bells[ch] = bells[ch].Scale(1 / sum)
	}
	for ch := range bells {
		u := x[unknowns*ch:]
		s.Gain[ch], s.Flare[ch], s.Gamma[ch] = math.Exp(u[0]), u[1], math.Exp(u[2])
		one, two := bells[(ch+1)%3], bells[(ch+2)%3]
		s.Weights[ch] = bells[ch].Add(one.Scale(u[5])).Add(two.Scale(u[6])).Scale(1 / (1 + u[5] + u[6]))
	}
	return s
}

// gives is what a channel gives of a reflectance.
func (s *Scanner) gives(ch int, r *spectrum.Curve) float64 {
	sum := 0.0
	for i, w := range s.Weights[ch] {
		sum += w * r[i]
	}
	return s.Gain[ch] * math.Pow(s.Flare[ch]+sum, s.Gamma[ch])
}

// Reflected is the share of light that a surface gives back to a channel, without the flare, of
// what the channel gave. It is not below leastReflected.
func (s *Scanner) Reflected(ch int, given float64) float64 {
	return max(math.Pow(max(given, 0)/s.Gain[ch], 1/s.Gamma[ch])-s.Flare[ch], leastReflected)
}

const leastReflected = 1e-3

// Status is the scanner as a densitometer.
func (s *Scanner) Status() spectrum.Status {
	return spectrum.StatusOf("scanner", s.Weights[0], s.Weights[1], s.Weights[2])
}

// density of what a channel gave, with the standard deviation that it is taken to have.
func density(given float64) (d, sigma float64) {
	given = max(given, 1e-4)
	return -math.Log10(given), math.Hypot(targetSigma, darkSigma/given/math.Ln10)
}

// characterise finds a scanner by what it gave of the patches of a target, and how well it
// tells those that it was not found by.
func characterise(patches []Reference, given [][3]float64) (*Scanner, error) {
	all := make([]int, len(patches))
	for i := range all {
		all[i] = i
	}
	whole := scannerBy(patches, given, all)
	squares, n := 0.0, 0
	for fold := range folds {
		kept := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return i%folds == fold })
		s := scannerBy(patches, given, kept)
		for i := fold; i < len(patches); i += folds {
			for ch := range 3 {
				got, sigma := density(given[i][ch])
				off := math.Log10(max(s.gives(ch, &patches[i].R), 1e-4)) + got
				// What is dark is read less surely, and weighs less.
				squares += off * off * targetSigma * targetSigma / (sigma * sigma)
				n++
			}
		}
	}
	whole.Error = math.Sqrt(squares / float64(n))
	if whole.Error > mostError {
		return nil, fmt.Errorf("no scanner that sees light alone gives this of the target: patches that are left out are off by %.2f in density. Scan again with all automatics off (colour, contrast, sharpening, dust), or correct where the target lies, and which it is", whole.Error)
	}
	return whole, nil
}

// scannerBy finds a scanner by some of the patches.
func scannerBy(patches []Reference, given [][3]float64, kept []int) *Scanner {
	x := make([]float64, 3*unknowns)
	for ch := range 3 {
		u := x[unknowns*ch:]
		u[1], u[5], u[6] = flare, leakage, leakage
		lightest := 0.0
		for _, i := range kept {
			lightest = max(lightest, given[i][ch])
		}
		u[0] = math.Log(max(lightest, 1e-3))
	}
	began := slices.Clone(x)
	misses := func(x []float64) (out []float64) {
		s := scannerOf(x)
		for _, i := range kept {
			for ch := range 3 {
				d, sigma := density(given[i][ch])
				out = append(out, (math.Log10(max(s.gives(ch, &patches[i].R), 1e-4))+d)/sigma)
			}
		}
		for i, sigma := range [unknowns]float64{gainSigma, flareSigma, gammaSigma, bandAtSigma, bandWideSigma, leakageSigma, leakageSigma} {
			for ch := range 3 {
				k := unknowns*ch + i
				out = append(out, (x[k]-began[k])/sigma)
			}
		}
		return out
	}
	within := func(x []float64) {
		for ch := range 3 {
			u := x[unknowns*ch:]
			u[1], u[5], u[6] = min(max(u[1], 0), 0.2), max(u[5], 0), max(u[6], 0)
			u[2], u[3], u[4] = min(max(u[2], -1), 1), min(max(u[3], -40), 40), min(max(u[4], -1), 1)
		}
	}
	x, _ = linear.LeastSquares(x, misses, within, scannerSteps)
	return scannerOf(x)
}
