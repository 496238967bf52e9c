package flatbed_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"threeply/proof/fit"
	"threeply/proof/flatbed"
	"threeply/proof/flatbed/flatbedtest"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/scan"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// A simulated flatbed with leaks between its channels, flare, a curve that is not its file's and
// a chart of 24 patches; the sheet lies turned and askew, and upside down. Overprints that were
// held out come within ΔE00 4 of the workshop itself on average.
func TestFlatbed(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	w, g := flatbedtest.NewWorkshop(p), flatbedtest.NewGlass()
	refs, spectra, labs := flatbedtest.Chart()
	light, _ := spectrum.LightByID("D50")
	for _, c := range []struct {
		references string
		degrees    float64
	}{{spectra, 3}, {labs, 178}} {
		target, err := flatbed.ReadTarget([]byte(c.references))
		if err != nil {
			t.Fatal(err)
		}
		s, corners := g.Scanned(w, sheet, refs, 110, c.degrees)
		target.Corners = corners
		readings, scanner, err := flatbed.Read(s, target, sheet, recipe)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("scanner: error %.4f, flare %.3f, gamma %.2f", scanner.Error, scanner.Flare, scanner.Gamma)
		found, err := fit.Of(context.Background(), fit.Job{Sheet: sheet, Readings: readings, Recipe: recipe})
		if err != nil {
			t.Fatal(err)
		}
		mean, n := 0.0, 0.0
		for _, one := range found.Patches {
			patch, _ := sheet.Find(one.ID)
			if patch.Use == testsheet.HeldOut {
				mean, n = mean+spectrum.DeltaE00(one.Predicted, light.Lab(w.See(patch))), n+1
			}
		}
		t.Logf("%g°: ΔE00 %.2f of the workshop, expected %.2f; %v; left out %v", c.degrees, mean/n, found.Expected, readings.Notes, found.LeftOut)
		if mean/n > 4 || n != 12 || math.IsNaN(mean) {
			t.Errorf("%g°: the overprints are ΔE00 %.2f off", c.degrees, mean/n)
		}
	}
}

// What cannot be read is refused, with the reason and what to do.
func TestScansThatCannotBeRead(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	w, g := flatbedtest.NewWorkshop(p), flatbedtest.NewGlass()
	refs, spectra, _ := flatbedtest.Chart()
	good, corners := g.Scanned(w, sheet, refs, 105, 0)
	for says, change := range map[string]func(s *scan.Scan, target *flatbed.Target){
		"does not say its resolution": func(s *scan.Scan, _ *flatbed.Target) { s.PPI = 0 },
		"the scan is grey":            func(s *scan.Scan, _ *flatbed.Target) { s.Channels = 1 },
		"a JPEG":                      func(s *scan.Scan, _ *flatbed.Target) { s.Step = 2 },
		"register marks are found": func(s *scan.Scan, _ *flatbed.Target) { // half of the sheet
			for ch := range s.Planes {
				clear(s.Planes[ch].Pix[:s.W*s.H/3])
			}
		},
		"of the sheet is cut off": func(s *scan.Scan, _ *flatbed.Target) { // too light, as far as the sheet reaches
			for ch := range s.Planes {
				for i, v := range s.Planes[ch].Pix[:s.W*s.H*7/10] {
					s.Planes[ch].Pix[i] = uint16(min(1.12*float64(v), 65535))
				}
			}
		},
		"of the target is cut off": func(s *scan.Scan, _ *flatbed.Target) { // with a black point
			for ch := range s.Planes {
				for i, v := range s.Planes[ch].Pix {
					s.Planes[ch].Pix[i] = max(v, 16000) - 16000
				}
			}
		},
		"outside of the scan": func(_ *scan.Scan, target *flatbed.Target) { target.Corners[2][1] += 500 },
		"pixels wide":         func(_ *scan.Scan, target *flatbed.Target) { target.Corners = [3][2]float64{} },
		"patches that are left out are off": func(s *scan.Scan, _ *flatbed.Target) { // colours that were made livelier
			for i := range s.Planes[0].Pix {
				var v [3]float64
				mean := 0.0
				for ch := range v {
					v[ch] = float64(s.Planes[ch].Pix[i])
					mean += v[ch] / 3
				}
				for ch := range v {
					s.Planes[ch].Pix[i] = uint16(min(max(mean+1.6*(v[ch]-mean), 0), 65535))
				}
			}
		},
		"off by": func(_ *scan.Scan, target *flatbed.Target) { target.Corners[0][1] -= 120 }, // over the sheet
	} {
		target, err := flatbed.ReadTarget([]byte(spectra))
		if err != nil {
			t.Fatal(err)
		}
		target.Corners = corners
		s := *good
		s.Planes = slices.Clone(s.Planes)
		for ch, one := range s.Planes {
			s.Planes[ch] = &plane.Plane{W: one.W, H: one.H, Pix: slices.Clone(one.Pix)}
		}
		change(&s, target)
		if _, _, err := flatbed.Read(&s, target, sheet, recipe); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
}

func TestTargetsThatCannotBeRead(t *testing.T) {
	_, _, labs := flatbedtest.Chart()
	for says, text := range map[string]string{
		"stands twice":         strings.Replace(labs, "B1 ", "A1 ", 1),
		"no place of a target": strings.Replace(labs, "A1 ", "grey ", 1),
		"it takes 18 or more":  "SAMPLE_ID,LAB_L,LAB_A,LAB_B\nA1,50,0,0\n",
		"give the reference":   strings.Replace(labs, "A1 ", "Z9 ", 1),
		"no surface has the":   strings.Replace(labs, "\nA1 ", "\nA2 50 150 -150\nA1 ", 1),
		"give the target's":    "SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0,1,2\n",
		"no data":              "",
		"neither CGATS text":   "A1;50;0;0\n",
	} {
		if _, err := flatbed.ReadTarget([]byte(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
}
