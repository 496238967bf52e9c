// Package film knows the film that printing negatives are made on: which density in
// the printing light, UV, it gets for each code of a file, and how far it reaches.
//
// Densities are to base 10, above the clear film. A code is a share of the file's
// whitest value: 1 leaves the film clear, 0 makes it as dense as it gets.
package film

import (
	"fmt"
	"math"
	"sort"
)

// Kinds of film.
const (
	Inkjet = "inkjet" // ink on a clear or milky film
	Silver = "silver" // developed silver
)

// What a film's table was measured by.
const (
	UV     = "uv"     // a densitometer that reads in the UV, or the tablet's way: see ReadByTablet
	Visual = "visual" // as the eye sees (ISO 5-3)
	Status = "status" // through a status filter (ISO 5-3)
)

// Step is one measured patch of a film.
type Step struct {
	Code    float64 `json:"code"`    // 0 the densest, 1 clear film
	Density float64 `json:"density"` // above the clear film
}

// Film is a film and the way it is printed.
type Film struct {
	Kind     string  `json:"kind"`           // Inkjet or Silver
	Measured string  `json:"measured"`       // what Table was measured by; "" where there is none
	Max      float64 `json:"max"`            // largest density that it gets in the UV; that of Table where there is one
	Table    []Step  `json:"table,omitzero"` // codes falling, from clear film to the densest
}

// Usual is the film that stands for one that was not measured: inkjet film reaches
// about 2.0 to 2.5 in the UV (from memory). Its code is taken to be linear in
// density.
var Usual = Film{Kind: Inkjet, Max: 2.2}

// The limits of what can be entered.
const (
	LeastMax, MostMax     = 0.5, 5.0
	LeastSteps, MostSteps = 3, 256
)

// Check returns what cannot be printed by, or nil.
func (f Film) Check() error {
	if len(f.Table) == 0 {
		if f.Measured != "" {
			return fmt.Errorf("a film measured by “%s” without a table", f.Measured)
		}
		return nil
	}
	if n := len(f.Table); n < LeastSteps || n > MostSteps {
		return fmt.Errorf("a film's table of %d steps: give %d to %d", n, LeastSteps, MostSteps)
	}
	if f.Kind == Inkjet && f.Measured != UV {
		return fmt.Errorf("%s", WhyUV)
	}
	if f.Measured == "" {
		return fmt.Errorf("a film's table must say what it was measured by: %s, %s or %s", UV, Visual, Status)
	}
	for i, s := range f.Table {
		if i > 0 && !(s.Code < f.Table[i-1].Code && s.Density >= f.Table[i-1].Density) {
			return fmt.Errorf("step %d of the film's table: density %.3f after %.3f; more ink or silver must give as much density or more", i+1, s.Density, f.Table[i-1].Density)
		}
	}
	first, last := f.Table[0], f.Table[len(f.Table)-1]
	switch {
	case first.Code != 1 || last.Code != 0:
		return fmt.Errorf("the film's table runs from code %g to %g: it must hold the clear film and the densest code", first.Code, last.Code)
	case first.Density != 0:
		return fmt.Errorf("the film's table begins at density %g: densities count from the clear film", first.Density)
	case math.Abs(last.Density-f.Max) > 1e-9:
		return fmt.Errorf("the film's largest density is %g, but its table ends at %g", f.Max, last.Density)
	case last.Density < LeastMax:
		return fmt.Errorf("the film's table ends at density %g: too little for a printing negative, which needs %g or more", last.Density, LeastMax)
	}
	return nil
}

// WhyUV says why an inkjet film is never measured by eye.
const WhyUV = "an inkjet film is measured in the UV alone: ink that looks black may pass UV, and ink that looks pale may stop it, so visual density says nothing of how it prints; read it with a UV densitometer, or print its wedge beside a step tablet on one tissue"

// curve is density over code.
func (f Film) curve() func(code float64) float64 {
	if len(f.Table) == 0 {
		return func(code float64) float64 { return f.Max * (1 - min(max(code, 0), 1)) }
	}
	return func(code float64) float64 { return min(max(f.between(min(max(code, 0), 1)), 0), f.Max) }
}

// between is the table at a code, 0 … 1, by a cubic that never turns back: its slopes are
// those of F. N. Fritsch and J. Butland (SIAM J. Sci. Stat. Comput. 5, 1984, 300), with
// the one-sided three-point slopes at both ends held to what keeps it from turning.
func (f Film) between(code float64) float64 {
	t := f.Table // codes fall
	i := sort.Search(len(t)-2, func(i int) bool { return t[i+1].Code <= code })
	h := t[i].Code - t[i+1].Code
	u := (t[i].Code - code) / h
	d := f.secant(i)
	m0, m1 := f.slope(i), f.slope(i+1)
	return t[i].Density + h*u*(m0+u*((3*d-2*m0-m1)+u*(m0+m1-2*d)))
}

// secant is by how much the density rises from step i to the next, for a code of 1.
func (f Film) secant(i int) float64 {
	return (f.Table[i+1].Density - f.Table[i].Density) / f.width(i)
}

func (f Film) width(i int) float64 { return f.Table[i].Code - f.Table[i+1].Code }

// slope is that of the cubic at step i.
func (f Film) slope(i int) float64 {
	last := len(f.Table) - 1
	switch i {
	case 0:
		return end(f.width(0), f.width(1), f.secant(0), f.secant(1))
	case last:
		return end(f.width(last-1), f.width(last-2), f.secant(last-1), f.secant(last-2))
	}
	a, b := f.secant(i-1), f.secant(i)
	if a*b <= 0 {
		return 0
	}
	p := (f.width(i-1) + 2*f.width(i)) / (3 * (f.width(i-1) + f.width(i)))
	return a * b / (p*b + (1-p)*a)
}

// end is the slope at an end: of the parabola through three points, whose widths and
// secants are given from the end on, between 0 and three times the first secant.
func end(h0, h1, d0, d1 float64) float64 {
	m := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	return min(max(m, 0), 3*d0)
}

// Codes is how many codes a file of 16 bits has.
const Codes = 1 << 16

// Densities gives the density of every code of a file of 16 bits; it falls, or stays.
func (f Film) Densities() *[Codes]float64 {
	var out [Codes]float64
	at := f.curve()
	for i := range out {
		out[i] = at(float64(i) / (Codes - 1))
	}
	return &out
}

// Coder finds the codes of densities.
type Coder struct{ densities *[Codes]float64 }

// Coder returns the film's.
func (f Film) Coder() Coder { return Coder{f.Densities()} }

// Code is the code of 16 bits whose density is nearest; beyond the film's ends, the
// end's. Where the film gets no denser over several codes it is the clearest of them.
func (c Coder) Code(density float64) uint16 {
	// The first code that is no denser than wanted.
	low, high := 0, Codes-1
	for low < high {
		if mid := (low + high) / 2; c.densities[mid] <= density {
			high = mid
		} else {
			low = mid + 1
		}
	}
	if low > 0 && c.densities[low-1]-density < density-c.densities[low] {
		low--
	}
	for low < Codes-1 && c.densities[low+1] == c.densities[low] {
		low++
	}
	return uint16(low)
}

// Density is that of a code.
func (c Coder) Density(code uint16) float64 { return c.densities[code] }
