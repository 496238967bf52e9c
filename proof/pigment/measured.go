package pigment

import (
	"fmt"
	"time"

	"threeply/proof/spectrum"
)

// Spectra are the absorption and the scattering of a tissue as measured, per unit
// relative thickness at load and haze 1. They are used in place of its pigments', which
// still say what can hurt and what fades.
type Spectra struct {
	K spectrum.Curve `json:"k"`
	S spectrum.Curve `json:"s"`

	KSigma float64 `json:"kSigma"` // standard deviation of the natural logarithm of K at its peak
	SSigma float64 `json:"sSigma"` // of that of S
}

// Measurement says how a palette was measured, and how well it predicts what it was not
// fitted to.
type Measurement struct {
	Date    string  `json:"date"`    // of the fit, as 2006-01-02
	Paper   string  `json:"paper"`   // what the sheet was printed on
	Way     string  `json:"way"`     // one of Ways
	Mean    float64 `json:"mean"`    // ΔE00 of the patches held out, under D50
	P95     float64 `json:"p95"`     // 95 of 100 of them lie within this
	Max     float64 `json:"max"`     // the largest
	Patches int     `json:"patches"` // how many were held out
	Sheets  int     `json:"sheets"`  // how many files of readings; by eye, how many sheets one after the other
	Coat    float64 `json:"coat"`    // standard deviation of amounts from coat to coat, as a share
	Finish  string  `json:"finish"`  // id of the surface that the sheet had, "" where it is not known
	K0      float64 `json:"k0"`      // light that this surface added, as a share; 0 where it was not told
	Angular bool    `json:"angular"` // light crosses the layers on slanting ways; see package stack

	Seen  *Seen      `json:"seen,omitempty"` // what the palette rests on, where the way was by eye
	Doubt [3]float64 `json:"doubt,omitzero"` // then, by printer: standard deviation of the natural logarithm of an amount in the middle of the curve

	// Told is then how many sheets tell which light, which middle and which deep grey is neutral: a
	// part of one where a sheet tells less.
	Told [3]float64 `json:"told,omitzero"`

	Expected float64 `json:"expected,omitempty"` // ΔE00 that is to be expected on average where the way tells no spectra; 0 where Mean says it
}

// Ways are those of measuring.
var Ways = []string{"spectra", "colours", "densities", "scan", Eye}

// Eye is the way that needs no instrument.
const Eye = "eye"

// The limits of what was measured.
const (
	LeastK, MostK = 1e-9, 500 // of K; S can be none
	MostError     = 100       // ΔE00
	MostSigma     = 5
	MostCounted   = 1000 // patches, and files
	MostK0        = 0.2
)

func (s *Spectra) check() *Fault {
	for _, c := range []struct {
		key    string
		values spectrum.Curve
		least  float64
	}{{"k", s.K, LeastK}, {"s", s.S, 0}} {
		for i, v := range c.values {
			if !(v >= c.least && v <= MostK) {
				return &Fault{[]any{"measured", c.key}, fmt.Sprintf("%g at %g nm is out of bounds; give %d values from %d nm on in steps of %d, none below %g", v, spectrum.Wavelength(i), spectrum.N, spectrum.First, spectrum.Step, c.least)}
			}
		}
	}
	for key, v := range map[string]float64{"kSigma": s.KSigma, "sSigma": s.SSigma} {
		if !(v >= 0 && v <= MostSigma) {
			return &Fault{[]any{"measured", key}, fmt.Sprintf("%g is out of bounds; give 0 to %d", v, MostSigma)}
		}
	}
	return nil
}

func (m *Measurement) check() *Fault {
	at := func(key, reason string) *Fault { return &Fault{[]any{"measured", key}, reason} }
	if _, err := time.Parse(time.DateOnly, m.Date); err != nil {
		return at("date", fmt.Sprintf("“%.20s” is no date; give year, month and day such as 2026-03-01", m.Date))
	}
	if m.Paper != "" && !ValidName(m.Paper) {
		return at("paper", "give the paper a name of 80 characters at most")
	}
	known := false
	for _, w := range Ways {
		known = known || w == m.Way
	}
	if !known {
		return at("way", fmt.Sprintf("“%.20s” is no way of measuring; it is one of %v", m.Way, Ways))
	}
	for key, v := range map[string]float64{"expected": m.Expected, "mean": m.Mean, "p95": m.P95, "max": m.Max} {
		if !(v >= 0 && v <= MostError) {
			return at(key, fmt.Sprintf("a ΔE00 of %g; give 0 to %d", v, MostError))
		}
	}
	if !(m.K0 >= 0 && m.K0 <= MostK0) {
		return at("k0", fmt.Sprintf("a surface that adds %g; give 0 to %g", m.K0, MostK0))
	}
	if len(m.Finish) > 20 {
		return at("finish", "give the id of a finish")
	}
	if !(m.Coat >= 0 && m.Coat <= 1) || m.Patches < 0 || m.Patches > MostCounted || m.Sheets < 0 || m.Sheets > MostCounted {
		return at("coat", "how coats differ is a share, 0 to 1, and the counts are 0 to 1000")
	}
	for _, v := range m.Doubt {
		if !(v >= 0 && v <= MostSigma) {
			return at("doubt", fmt.Sprintf("%g is out of bounds; give 0 to %d", v, MostSigma))
		}
	}
	for _, n := range m.Told {
		if !(n >= 0 && n <= MostCounted) {
			return at("told", fmt.Sprintf("%g sheets; give 0 to %d", n, MostCounted))
		}
	}
	if m.Seen != nil {
		return m.Seen.check()
	}
	return nil
}

// TellsSpectra tells whether the way of measuring tells the shape of the spectra.
func (m *Measurement) TellsSpectra() bool { return m.Way == Ways[0] }

// Words says in a sentence how the palette was measured.
func (m *Measurement) Words() string {
	s := fmt.Sprintf("Measured %s by %s", m.Date, map[string]string{"spectra": "spectra", "colours": "colours", "densities": "densities", "scan": "a scan"}[m.Way])
	if m.Way == Eye {
		s = fmt.Sprintf("Judged by eye %s", m.Date)
	}
	if m.Paper != "" {
		s += " on " + m.Paper
	}
	if m.Way == Eye {
		return fmt.Sprintf("%s; no instrument read it, so expect errors of about ΔE00 %.0f.", s, m.Expected)
	}
	if m.Expected > 0 {
		return fmt.Sprintf("%s; the shape of the spectra is assumed, so expect errors of about ΔE00 %.1f.", s, m.Expected)
	}
	if m.Patches > 0 {
		s += fmt.Sprintf("; %d overprints that were held out came within ΔE00 %.1f on average, %.1f at most", m.Patches, m.Mean, m.Max)
	}
	return s + "."
}
