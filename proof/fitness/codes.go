package fitness

import (
	"math"

	"threeply/proof/plane"
)

// Codes is how a scan uses the codes of its file, over the picture.
type Codes struct {
	Levels  int     `json:"levels"`  // different codes that occur
	Unit    int     `json:"unit"`    // that all codes are a whole number of, from the lowest on: 257 where 8 bits were brought to 16
	Lowest  float64 `json:"lowest"`  // code that a thousandth of the picture lies below, 0 … 1
	Highest float64 `json:"highest"` // and above
	Gaps    float64 `json:"gaps"`    // share of the 256 steps between them that are empty though their neighbours are full
	Spikes  float64 `json:"spikes"`  // share of them that stand out above both neighbours
}

// CodesOf counts the codes of the area x0, y0, x1, y1 of a plane, the last two
// outside; of large ones every so-manieth row.
func CodesOf(p *plane.Plane, area [4]int) Codes {
	const enough = 4 << 20 // pixels
	rows := max((area[2]-area[0])*(area[3]-area[1])/enough, 1)
	var count [65536]int
	total := 0
	for y := area[1]; y < area[3]; y += rows {
		for _, code := range p.Row(y)[area[0]:area[2]] {
			count[code]++
		}
		total += area[2] - area[0]
	}
	var c Codes
	var coarse [256]int
	first := -1
	for code, n := range count {
		if n == 0 {
			continue
		}
		if first < 0 {
			first = code
		}
		c.Levels++
		c.Unit = divisor(c.Unit, code-first)
		coarse[code>>8] += n
	}
	lo, hi := end(count[:], total/1000, 1), end(count[:], total/1000, -1)
	c.Lowest, c.Highest = float64(lo)/65535, float64(hi)/65535
	c.Gaps, c.Spikes = comb(coarse[lo>>8 : hi>>8+1])
	return c
}

// divisor is the greatest that a and b have in common (Euclid).
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// end is the first code from one end on that more than n pixels do not lie
// beyond.
func end(count []int, n, way int) int {
	at := 0
	if way < 0 {
		at = len(count) - 1
	}
	for sum := count[at]; sum <= n && at+way >= 0 && at+way < len(count); sum += count[at] {
		at += way
	}
	return at
}

// comb returns the shares of empty and of high steps in a histogram. A step is
// empty where its neighbours hold fullFrom pixels each and it none; it is high
// where it holds more than standsOut times the mean of the two before and the
// two after. Either comes from codes that were stretched or pressed together
// after they had been rounded.
func comb(n []int) (gaps, spikes float64) {
	const fullFrom, standsOut = 16, 1.5
	if len(n) < 8 {
		return 0, 0
	}
	for i := 2; i < len(n)-2; i++ {
		around := float64(n[i-2]+n[i-1]+n[i+1]+n[i+2]) / 4
		switch {
		case n[i] == 0 && n[i-1] >= fullFrom && n[i+1] >= fullFrom:
			gaps++
		case around >= 4*fullFrom && float64(n[i]) > standsOut*around+4*math.Sqrt(around):
			spikes++
		}
	}
	steps := float64(len(n) - 4)
	return gaps / steps, spikes / steps
}
