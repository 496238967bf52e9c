package plate

import (
	"threeply/proof/density"
	"threeply/proof/fitness"
	"threeply/proof/plane"
)

// Source is what is known of one plate: plain data.
type Source struct {
	Name     string  `json:"name"`
	SHA256   string  `json:"sha256"` // of its file, in small hexadecimal digits
	Part     int     `json:"part"`   // which of the file's exposures or channels it is, from 0
	W        int     `json:"w"`      // pixels
	H        int     `json:"h"`
	Bits     int     `json:"bits"`
	PPI      float64 `json:"ppi"` // 0 where the file has none
	Encoding string  `json:"encoding"`
	Pictures int     `json:"pictures"` // in the file; the first was taken

	Polarity     Polarity `json:"polarity"`
	PolaritySure float64  `json:"polarity_sure"` // 0 (no idea) … 1 (certain)

	Base   float64 `json:"base"`   // thinnest density of the picture
	Max    float64 `json:"max"`    // densest useful density of the picture
	Rebate float64 `json:"rebate"` // density of base and fog as the film beside the picture shows it; 0 where none does
	White  float64 `json:"white"`  // density that the scene's white has
	Black  float64 `json:"black"`  // density that the scene's black has
	Area   [4]int  `json:"area"`   // picture without borders: x0, y0, x1, y1, x1 and y1 outside

	// Scan is what the scan shows of itself. Measure fills in what the density
	// plane tells.
	Scan fitness.Facts `json:"scan"`
}

// BaseFog is the density of base and fog: of the rebate where it was found, else
// of the picture's thinnest part. It says nothing of a positive.
func (s *Source) BaseFog() (d float64, fromRebate bool) {
	if s.Rebate > 0 {
		return s.Rebate, true
	}
	return s.Base, false
}

// Quantiles of the picture area. The thinnest and the densest half per cent
// are left to dust, scratches and highlights.
const (
	thinQuantile  = 0.005
	denseQuantile = 0.995
)

// Measure fills the measured fields of s (size, area, densities, clipping,
// streaks, and the polarity with its certainty) from a density plane.
func (s *Source) Measure(film *plane.Plane) {
	s.W, s.H = film.W, film.H
	t := tonesOf(film)
	var around [4]border
	s.Area, around = t.pictureArea(film.W, film.H)
	h := histogramOf(film, s.Area)
	s.Base, s.Max = h.quantile(thinQuantile), h.quantile(denseQuantile)
	s.Scan.Clipped = [2]float64{h.share(0, density.Clear), h.share(density.Black, 65535)}
	s.Scan.Streaks = fitness.StreaksOf(film, s.Area)
	s.Polarity, s.PolaritySure = guessPolarity(t, s.Area, around, h)
	s.Rebate = t.rebate(film, around, s.Base)
	s.SetPolarity(s.Polarity)
}

// SetPolarity settles the polarity and with it which end is the scene's white:
// dense on a negative, thin on a positive.
func (s *Source) SetPolarity(p Polarity) {
	s.Polarity = p
	s.White, s.Black = s.Base, s.Max
	if p == Negative {
		s.White, s.Black = s.Max, s.Base
	}
}

// Range is the density range of the picture.
func (s *Source) Range() float64 { return s.Max - s.Base }

// histogram counts density codes, 16 to a bin.
type histogram struct {
	bins  [4096]int
	total int
}

// histogramOf counts at most about a million pixels of the area, evenly spread.
func histogramOf(p *plane.Plane, area [4]int) *histogram {
	const enough = 1 << 20
	h := &histogram{}
	step := 1
	for (area[2]-area[0])/step*((area[3]-area[1])/step) > enough {
		step++
	}
	for y := area[1]; y < area[3]; y += step {
		row := p.Row(y)
		for x := area[0]; x < area[2]; x += step {
			h.bins[row[x]>>4]++
			h.total++
		}
	}
	return h
}

// quantile returns the density that a share q of the pixels does not reach.
func (h *histogram) quantile(q float64) float64 {
	want := q * float64(h.total)
	sum := 0.0
	for i, n := range h.bins {
		if n > 0 && sum+float64(n) >= want {
			inside := (want - sum) / float64(n)
			return (float64(i) + min(max(inside, 0), 1)) * 16 * density.Max / 65536
		}
		sum += float64(n)
	}
	return density.Max
}

// share returns the share of codes from lo to hi, which must be the ends of
// bins.
func (h *histogram) share(lo, hi int) float64 {
	n := 0
	for _, c := range h.bins[lo>>4 : hi>>4+1] {
		n += c
	}
	return float64(n) / float64(max(h.total, 1))
}
