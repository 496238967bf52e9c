package picture

import (
	"math"
	"testing"

	"threeply/proof/picture/picturetest"
	"threeply/proof/session"
	"threeply/proof/spectrum"
)

// held makes a printing whose whole grey scale is held.
func held(t *testing.T, s *session.State) *Printing {
	t.Helper()
	p, err := Prepare(s)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, worst, strays := p.Scale.Strays(); strays {
		t.Fatalf("%s: the grey scale strays by ΔE00 %.2f: nothing is known of its prints", s.Palette, worst)
	}
	return p
}

// TestTriedColours tries palettes on pictures of one grey and of one colour. The print is
// what the stack gives where each layer is as thick as the grey scale has it for the light
// behind its own filter; a grey lies on the scale, so that its distance from the
// reference is none. That holds for all of the picture alike.
func TestTriedColours(t *testing.T) {
	for _, light := range [][3]float64{{0.3, 0.3, 0.3}, {0.05, 0.05, 0.05}, {0.45, 0.3, 0.2}} {
		s, planes := picturetest.Scene(48, func(filter, _, _ int) float64 { return light[filter] })
		r := Reduced{Planes: planes, Frame: [4]float64{-0.5, -0.5, 47.5, 47.5}}
		for _, id := range []string{"arylide", "earth"} {
			chosen := s
			chosen.Palette = id
			p := held(t, &chosen)
			got, small, err := Try(&s, id, r, 24)
			if err != nil {
				t.Fatal(err)
			}
			var amounts [3]float64
			for i := range amounts { // yellow from the blue plate, magenta from the green one, cyan from the red one
				amounts[i] = p.Scale.Thickness(1 - picturetest.Lightness(light[2-i])/100)[i]
			}
			printed := p.Light.Lab(p.Recipe.Reflectance(amounts))
			reference := spectrum.SRGBLab(light)
			aim := picturetest.OnPrint(lightOf(reference[0]), p.Scale.Paper, p.Scale.Depth.Lab)
			aim[1], aim[2] = aim[1]+reference[1], aim[2]+reference[2]
			want := spectrum.DeltaE00(aim, printed)
			t.Logf("%s, light of %g: ΔE00 %.2f, want %.2f", id, light, got.Mean, want)
			if !(math.Abs(got.Mean-want) < 0.2 && math.Abs(got.P95-want) < 0.2) {
				t.Errorf("%s, light of %g: ΔE00 %.2f, 95 %% within %.2f, want %.2f", id, light, got.Mean, got.P95, want)
			}
			if grey := light[0] == light[2]; grey && !(got.Mean < 0.2) || !grey && !(got.Mean > 1) {
				t.Errorf("%s, light of %g: the print lies ΔE00 %.2f off", id, light, got.Mean)
			}
			if got.Beyond != 0 {
				t.Errorf("%s, light of %g: %.0f %% of the picture is called out of reach", id, light, 100*got.Beyond)
			}
			shown := picturetest.OnDisplay(printed)
			c := small.NRGBAAt(12, 12)
			for ch, v := range [3]uint8{c.R, c.G, c.B} {
				if math.Abs(float64(v)-shown[ch]) > 1.5 {
					t.Errorf("%s, light of %g: the small print is %v, want %.1f", id, light, c, shown)
					break
				}
			}
			checkBlack(t, p, got)
		}
	}
}

// lightOf is the share of white of a lightness.
func lightOf(l float64) float64 {
	return spectrum.Lab{l, 0, 0}.XYZ(spectrum.XYZ{100, 100, 100})[1] / 100
}

// checkBlack holds what is said of the deepest grey to the spectrum of its amounts.
func checkBlack(t *testing.T, p *Printing, f Tried) {
	t.Helper()
	black := p.Recipe.Reflectance(p.Scale.Depth.Thickness)
	lab := p.Light.Lab(black)
	if lab.Distance(f.Lab) > 1e-6 || math.Hypot(lab[1], lab[2]) > 0.01 || math.Abs(spectrum.VisualDensity(black)-f.Density) > 1e-9 {
		t.Errorf("the deepest grey is said to be %.3f of density %.3f, its amounts give %.3f of %.3f", f.Lab, f.Density, lab, spectrum.VisualDensity(black))
	}
	for _, drift := range []struct {
		light string
		got   float64
		lab   spectrum.Lab
	}{{"A", f.DriftA, f.InA}, {"LED-B3", f.DriftLED, f.InLED}} {
		l, _ := spectrum.LightByID(drift.light)
		if want := spectrum.DeltaE00(lab, l.Lab(black)); !(math.Abs(drift.got-want) < 1e-9) || drift.lab.Distance(l.Lab(black)) > 1e-9 {
			t.Errorf("the black drifts by %.3f in %s, want %.3f", drift.got, drift.light, want)
		}
	}
}

// TestTriedColoursOutOfReach tries a palette on a picture of which a known part is light
// of one filter alone, a colour at the corner of sRGB that no pigments print.
func TestTriedColoursOutOfReach(t *testing.T) {
	const side = 96
	for _, share := range []float64{0, 0.25, 0.5, 1} {
		s, planes := picturetest.Scene(side, func(filter, _, y int) float64 {
			if float64(y) < share*side {
				return []float64{0, 1, 0}[filter]
			}
			return 0.18
		})
		got, _, err := Try(&s, "earth", Reduced{Planes: planes, Frame: [4]float64{-0.5, -0.5, side - 0.5, side - 0.5}}, 24)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Beyond-share) > 1.5/side {
			t.Errorf("%.0f %% of the picture is a green that no pigments print, %.1f %% is called out of reach", 100*share, 100*got.Beyond)
		}
	}
}
