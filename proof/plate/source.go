package plate

import (
	"threeply/proof/density"
	"threeply/proof/fitness"
	"threeply/proof/plane"
)

// Source is what is known of one plate: plain data, with densities to base 10.
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

	// Remarks say what was passed over or made up for in reading, and what an infrared
	// channel shows.
	Remarks []string `json:"remarks,omitempty"`

	Polarity     Polarity `json:"polarity"`
	PolaritySure float64  `json:"polarity_sure"` // 0, no idea … 1, certain

	Base   float64 `json:"base"`   // density of the picture's thinnest part, see thinQuantile
	Max    float64 `json:"max"`    // density of the picture's densest part, see denseQuantile
	Rebate float64 `json:"rebate"` // density of base and fog in the film beside the picture; 0 where no side shows it
	White  float64 `json:"white"`  // density of the scene's white
	Black  float64 `json:"black"`  // density of the scene's black
	Area   [4]int  `json:"area"`   // of the picture without borders, pixels: x0, y0, x1, y1, the last two just outside

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

// Shares of the picture's pixels below its thinnest and its densest part. The half per
// cent beyond each is left to dust, scratches and highlights; common practice.
const (
	thinQuantile  = 0.005
	denseQuantile = 0.995
)

// Measure fills in what a density plane tells of s: size, area, densities, clipping,
// streaks, and the polarity with how sure it is.
func (s *Source) Measure(d *plane.Plane) {
	s.W, s.H = d.W, d.H
	t := tonesOf(d)
	var around [4]border
	s.Area, around = t.pictureArea(d.W, d.H)
	h := histogramOf(d, s.Area)
	s.Base, s.Max = h.quantile(thinQuantile), h.quantile(denseQuantile)
	s.Scan.Clipped = [2]float64{h.share(0, density.Clear), h.share(density.Black, 65535)}
	s.Scan.Streaks = fitness.StreaksOf(d, s.Area)
	s.Polarity, s.PolaritySure = guessPolarity(t, s.Area, around, h)
	s.Rebate = t.rebate(d, around, s.Base)
	s.SetPolarity(s.Polarity)
}

// SetPolarity sets the polarity, and with it which end is the scene's white: the dense
// one of a negative, the thin one of a positive.
func (s *Source) SetPolarity(p Polarity) {
	s.Polarity = p
	s.White, s.Black = s.Base, s.Max
	if p == Negative {
		s.White, s.Black = s.Max, s.Base
	}
}

// histogram counts the pixels of a picture by their density codes, 16 to a bin.
type histogram struct {
	bins  [4096]int
	total int
}

// histogramOf counts the pixels of the area; of a large one about a million, evenly
// spread.
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

// quantile returns the density that a share q of the pixels lies below.
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

// share returns the share of pixels with codes from lo to hi. lo must be the first code
// of a bin and hi the last of one.
func (h *histogram) share(lo, hi int) float64 {
	n := 0
	for _, c := range h.bins[lo>>4 : hi>>4+1] {
		n += c
	}
	return float64(n) / float64(max(h.total, 1))
}
