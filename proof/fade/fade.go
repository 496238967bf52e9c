// Package fade tells how a print would look after an exhibition, as an assumed range: from
// the blue wool classes of its pigments, which are ranges themselves, and the doses of light
// after which colours of these classes have faded noticeably (pigment.FadingDose; CIE
// 157:2004 tells objects' fading by the same classes). Where a strip of a tissue was
// measured, that goes before its classes.
//
// What is assumed besides: a pigment is lost by the same share for the same light, however
// much is left (first order), each by itself; gelatine and paper keep their colour; no UV
// reaches the print.
package fade

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// noticed is the difference, CIELAB 1976, at which fading is noticed: grade 4 of the grey
// scale of ISO 105-A02 (from memory).
const noticed = 1.7

// Left is the share of a pigment, 0 to 1, that is left after a dose of light in Mlx·h, 0 or
// more, where it is of a blue wool class: after the class's dose a layer of half the
// standard depth has faded noticeably.
func Left(p pigment.Pigment, class, dose float64) float64 {
	return math.Pow(atNoticed(p), dose/pigment.FadingDose(class))
}

// atNoticed is the share of a pigment that is left where a layer of half the standard depth,
// on the default paper in D50, has faded noticeably.
func atNoticed(p pigment.Pigment) float64 {
	light, _ := spectrum.LightByID("D50")
	layers := stack.DefaultRecipe(pigment.Palette{Yellow: pigment.NewTissue(pigment.Share{CI: p.CI, Share: 1})}).Layers()
	at := func(amount float64) spectrum.Lab { return light.Lab(layers.Reflectance([3]float64{amount / 2, 0, 0})) }
	fresh := at(1)
	low, high := 0.0, 1.0
	for range 30 {
		if mid := (low + high) / 2; at(mid).Distance(fresh) > noticed {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Layer is what an exhibition leaves of a layer's pigments, as shares of what there was: the
// least, by the lowest class of each, and the most.
type Layer struct {
	Least, Most float64
	Unknown     []string // names of the pigments of which no class is known: they are taken to stay
	Measured    bool     // of a strip of the tissue
}

// Words say what is left, and whether it was measured.
func (l Layer) Words() string {
	out := fmt.Sprintf("%.0f to %.0f %% left", 100*l.Least, 100*l.Most)
	if a, b := math.Round(100*l.Least), math.Round(100*l.Most); a == b {
		out = fmt.Sprintf("%.0f %% left", a)
	}
	if l.Measured {
		return out + ", as a strip was measured"
	}
	if len(l.Unknown) > 0 {
		out += "; not known of " + strings.Join(l.Unknown, ", ")
	}
	return out
}

// Palette is a palette after an exhibition: with the least that may be left of each pigment
// where worst is set, else with the most. It tells what is left of each layer, by printer.
// Where the spectra of a tissue were measured, they fade as a whole, by the mean of its
// pigments; its curve and its coat stay.
func Palette(p pigment.Palette, e pigment.Exhibition, worst bool) (faded pigment.Palette, layers [3]Layer) {
	faded = p
	for _, printer := range pigment.Printers() {
		t := p.Layer(printer)
		if f := t.Faded; f != nil {
			left := f.After(e.Dose())
			layers[printer] = Layer{Least: left, Most: left, Measured: true}
			t.Load *= left
			faded = faded.WithLayer(printer, t)
			continue
		}
		shares := make([]pigment.Share, len(t.Pigments))
		whole, sums := 0.0, [2]float64{}
		for i, s := range t.Pigments {
			g, _ := pigment.PigmentByCI(s.CI)
			left := [2]float64{1, 1}
			if b, ok := g.Classes(); ok {
				left = [2]float64{Left(g, b.Least, e.Dose()), Left(g, b.Most, e.Dose())}
			} else if s.Share > 0 {
				layers[printer].Unknown = append(layers[printer].Unknown, g.Name)
			}
			whole += s.Share
			sums[0], sums[1] = sums[0]+s.Share*left[0], sums[1]+s.Share*left[1]
			one := left[1]
			if worst {
				one = left[0]
			}
			shares[i] = pigment.Share{CI: s.CI, Share: s.Share * one}
		}
		if whole <= 0 {
			continue
		}
		layers[printer].Least, layers[printer].Most = sums[0]/whole, sums[1]/whole
		kept := 0.0
		for _, s := range shares {
			kept += s.Share
		}
		t.Pigments = shares
		if t.Measured != nil {
			t.Load *= kept / whole
		}
		faded = faded.WithLayer(printer, t)
	}
	return faded, layers
}
