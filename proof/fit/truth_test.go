package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// truth is a workshop of its own: nothing of what it works out is taken from the package
// under test, nor from package stack or relief. Its spectra are those of the table,
// shifted and scaled.
type truth struct {
	k, s    [3]spectrum.Curve
	curve   [3]func(logE float64) float64 // log exposure to amount
	paper   spectrum.Curve                // as measured
	dark    spectrum.Curve
	k0      float64
	angular bool
}

// film is Kubelka and Munk's film by the hyperbolic functions themselves (P. Kubelka,
// JOSA 38, 1948, 448), over what lies below.
func (tr *truth) over(k, s, x, below float64) float64 {
	if x == 0 {
		return below
	}
	a := 1 + k/s
	b := math.Sqrt(a*a - 1)
	coth := math.Cosh(b*s*x) / math.Sinh(b*s*x)
	return (1 - below*(a-b*coth)) / (a - below + b*coth)
}

func (tr *truth) inside(m float64) float64 {
	m -= tr.k0
	return m / ((1-0.04)*(1-0.6) + 0.6*m)
}

func (tr *truth) outside(r float64) float64 {
	return tr.k0 + (1-0.04)*(1-0.6)*r/(1-0.6*r)
}

// see is the reflectance of amounts, yellow next to the paper, cyan on top.
func (tr *truth) see(ground *spectrum.Curve, t [3]float64) spectrum.Curve {
	var out spectrum.Curve
	for i := range out {
		if tr.angular {
			out[i] = tr.slanting(tr.inside(ground[i]), tr.k[0][i]*t[0]+tr.k[1][i]*t[1]+tr.k[2][i]*t[2])
			continue
		}
		r := tr.inside(ground[i])
		for l := range t {
			r = tr.over(tr.k[l][i], tr.s[l][i], t[l], r)
		}
		out[i] = tr.outside(r)
	}
	return out
}

// slanting is a clear layer of normal absorbance a on a diffusing ground at 45°/0°: the
// rays that the ground sends out are followed one by one, cosine by cosine, back from a
// face of index 1.5 (F. C. Williams and F. R. Clapper, JOSA 43, 1953, 595). The face's
// own index and light are not those of the fit.
func (tr *truth) slanting(ground, a float64) float64 {
	const n = 1.5
	face := func(sin float64) float64 { // from inside, unpolarised
		out := n * sin
		if out >= 1 {
			return 1
		}
		ci, co := math.Sqrt(1-sin*sin), math.Sqrt(1-out*out)
		rs, rp := (n*ci-co)/(n*ci+co), (ci-n*co)/(ci+n*co)
		return (rs*rs + rp*rp) / 2
	}
	back := 0.0
	const rays = 60
	for i := range rays {
		sin2 := (float64(i) + 0.5) / rays
		back += face(math.Sqrt(sin2)) * math.Exp(-2*a/math.Sqrt(1-sin2)) / rays
	}
	in := math.Sqrt(0.5) / n
	way := math.Exp(-a * (1 + 1/math.Sqrt(1-in*in)))
	// In through the face at 45° and out at 0°; n² is the spread of the solid angle.
	return tr.k0 + (1-face(in))*(1-face(0))/(n*n)*way*ground/(1-ground*back)
}

// workshop makes one up: spectra that differ in shape from the palette's, scattering that
// is wrong by a factor three either way, curves with a threshold, a toe and a shoulder.
func workshop(p pigment.Palette, seed uint64) *truth {
	random := rand.New(rand.NewPCG(seed, 7))
	tr := &truth{k0: 0.004 * (1 + random.Float64())}
	other := [3]string{"PY83", "PV19", "PB15:3"}
	for l := range 3 {
		k, s := p.Layer(pigment.Printer(l)).KS()
		g, _ := pigment.PigmentByCI(other[l])
		foreign, shift, load := g.K(), 6*random.NormFloat64(), math.Exp(0.2*random.NormFloat64())
		factor := 3.0
		if random.IntN(2) == 0 {
			factor = 1.0 / 3
		}
		for i := range k {
			at := min(max((spectrum.Wavelength(i)+shift-spectrum.First)/spectrum.Step, 0), spectrum.N-1.001)
			j := int(at)
			u := at - float64(j)
			own := (1-u)*k[j] + u*k[j+1]
			tr.k[l][i] = load * (0.6*own + 0.4*foreign[i])
			tr.s[l][i] = factor*s[i] + 1e-6
		}
		reach := 1.1 + 0.6*random.Float64()
		toe, shoulder := 0.03+0.05*random.Float64(), 0.05+0.1*random.Float64()
		hold := 0.03 * random.Float64()
		open := func(e float64) float64 { // a straight line with a rounded foot, bent at its top
			h := toe * math.Log1p(math.Exp((1+e/reach)/toe))
			return h - shoulder*math.Log1p(math.Exp((h-1)/shoulder))
		}
		tr.curve[l] = func(e float64) float64 {
			if h := open(e) - open(-5); h > hold {
				return h
			}
			return 0
		}
	}
	tr.paper = spectrum.Sample(func(nm float64) float64 { return 0.89 - 0.12*math.Exp(-(nm-380)/40) })
	tr.dark = spectrum.Sample(func(nm float64) float64 { return 0.04 + 0.00002*(nm-380) })
	return tr
}

// amounts are those of a patch, each off by its coat.
func (tr *truth) amounts(p testsheet.Patch, coat float64, random *rand.Rand) (t [3]float64) {
	for l, has := range p.Has {
		if has {
			t[l] = tr.curve[l](p.LogE[l])
			if coat > 0 {
				t[l] *= 1 + coat*random.NormFloat64()
			}
		}
	}
	return t
}

// sheet is the text that an instrument writes of the sheet: noise is the standard
// deviation of a reflectance, as a share of full scale; each patch is read twice.
func (tr *truth) sheet(s testsheet.Sheet, noise, coat float64, seed uint64, step int, dark bool) string {
	random := rand.New(rand.NewPCG(seed, 9))
	var out strings.Builder
	out.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID")
	for nm := 380; nm <= 730; nm += step {
		fmt.Fprintf(&out, " SPECTRAL_NM%d", nm)
	}
	out.WriteString("\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	for _, p := range s.Patches {
		ground := &tr.paper
		if p.Ground == testsheet.Dark {
			if !dark {
				continue
			}
			ground = &tr.dark
		}
		r := tr.see(ground, tr.amounts(p, coat, random))
		for range 2 {
			out.WriteString(p.ID)
			for nm := 380; nm <= 730; nm += step {
				fmt.Fprintf(&out, " %.5f", max(r[(nm-380)/5]+noise*random.NormFloat64(), 0))
			}
			out.WriteString("\n")
		}
	}
	out.WriteString("END_DATA\n")
	return out.String()
}

// errorAgainst is the ΔE00 of the held-out patches of a result against the workshop
// itself, without noise and with coats as they are meant.
func (tr *truth) errorAgainst(s testsheet.Sheet, r *Result) Errors {
	light, _ := spectrum.LightByID("D50")
	var off []float64
	for _, one := range r.Patches {
		if one.Use != testsheet.HeldOut {
			continue
		}
		p, _ := s.Find(one.ID)
		off = append(off, spectrum.DeltaE00(one.Predicted, light.Lab(tr.see(&tr.paper, tr.amounts(p, 0, rand.New(rand.NewPCG(1, 1)))))))
	}
	return errorsOf(off)
}
