package flatbed_test

import (
	"context"
	"fmt"
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
// a chart of 24 patches; the sheet lies turned and askew, and upside down. The chart is found, and
// light that falls by an eighth across the glass is evened out; or it is pointed at. Overprints
// that were held out come within ΔE00 4 of the workshop itself on average.
func TestFlatbed(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	w := flatbedtest.NewWorkshop(p)
	refs, spectra, labs := flatbedtest.Chart()
	light, _ := spectrum.LightByID("D50")
	for _, c := range []struct {
		references string
		degrees    float64
		fall       float64
		pointed    bool
	}{{spectra, 3, 0.12, false}, {labs, 178, 0, true}} {
		target, err := flatbed.ReadTarget([]byte(c.references))
		if err != nil {
			t.Fatal(err)
		}
		g := flatbedtest.NewGlass()
		g.Fall = c.fall
		s, corners := g.Scanned(w, sheet, refs, 110, c.degrees)
		if c.pointed {
			target.Corners = corners
		}
		readings, scanner, err := flatbed.Read([]*scan.Scan{s}, target, sheet, recipe)
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
		if evened := strings.Contains(strings.Join(readings.Notes, " "), "was evened out"); evened != (c.fall > 0) {
			t.Errorf("%g°: %v", c.degrees, readings.Notes)
		}
	}
}

// A chart is found however it is turned, to a tenth of its patches, and not taken for certain where
// it is another one.
func TestFind(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet := testsheet.Of(p)
	w, g := flatbedtest.NewWorkshop(p), flatbedtest.NewGlass()
	refs, spectra, _ := flatbedtest.Chart()
	for _, g.Quarter = range []int{1, 2, 3} {
		s, corners := g.Scanned(w, sheet, refs, 75, 0)
		target, err := flatbed.ReadTarget([]byte(spectra))
		if err != nil {
			t.Fatal(err)
		}
		found, ok := target.Find(s, flatbed.Locate(s, sheet))
		pitch := math.Hypot(corners[1][0]-corners[0][0], corners[1][1]-corners[0][1]) / 5
		off := 0.0
		for i, c := range corners {
			off = max(off, math.Hypot(found.Corners[i][0]-c[0], found.Corners[i][1]-c[1])/pitch)
		}
		t.Logf("%d: %+v, off by %.2f of a patch", g.Quarter, found, off)
		if !ok || !found.Sure || off > 0.1 {
			t.Errorf("turned by %d quarters: sure %v, off by %.2f of a patch", g.Quarter, found.Sure, off)
		}
		for i, r := range target.Patches { // as if in another order
			target.Patches[i].R = target.Patches[(i*7+5)%len(target.Patches)].R
			target.Patches[(i*7+5)%len(target.Patches)].R = r.R
		}
		if found, _ := target.Find(s, nil); found.Sure {
			t.Errorf("another chart is taken for certain: %+v", found)
		}
	}
}

// Two scans of a sheet, the second upside down, are averaged, and say what of the uneven light goes
// with the scanner.
func TestTwoScans(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	w, g := flatbedtest.NewWorkshop(p), flatbedtest.NewGlass()
	g.Fall = 0.12
	refs, spectra, _ := flatbedtest.Chart()
	target, err := flatbed.ReadTarget([]byte(spectra))
	if err != nil {
		t.Fatal(err)
	}
	var scans []*scan.Scan
	for _, degrees := range []float64{1, 181} {
		s, _ := g.Scanned(w, sheet, refs, 110, degrees)
		scans = append(scans, s)
	}
	readings, _, err := flatbed.Read(scans, target, sheet, recipe)
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(readings.Notes, " ")
	t.Log(said)
	var agree, scanner, own float64
	at := strings.Index(said, "The two scans agree")
	if _, err := fmt.Sscanf(said[max(at, 0):], "The two scans agree within %f in density; of the uneven light %f %% goes with the scanner, %f %%", &agree, &scanner, &own); err != nil {
		t.Fatal(err)
	}
	// Over the sheet's 120 mm of 190 the light falls by 7.6 %, 4 % to either side.
	if agree > 0.01 || math.Abs(scanner-4) > 0.7 || own > 0.7 {
		t.Errorf("%.3f, %.1f %%, %.1f %%", agree, scanner, own)
	}
}

// A sheet that was printed mirrored is read as it lies; colours that were made livelier are
// suspected; and both are said.
func TestMirroredSheet(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	refs, spectra, _ := flatbedtest.Chart()
	s, corners := flatbedtest.NewGlass().Scanned(flatbedtest.NewWorkshop(p), sheet, refs, 75, 0)
	target, err := flatbed.ReadTarget([]byte(spectra))
	if err != nil {
		t.Fatal(err)
	}
	target.Corners = corners
	said := func() string {
		t.Helper()
		read, _, err := flatbed.Read([]*scan.Scan{s}, target, sheet, recipe)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(read.Mind, " ")
	}
	if words := said(); words != "" {
		t.Errorf("of a good scan it is said: %s", words)
	}
	for _, one := range s.Planes {
		for y := range int(172 * s.PPI / 25.4) { // without the target
			slices.Reverse(one.Row(y))
		}
	}
	if words := said(); words != "The sheet is mirrored against its plan; it was read as it lies." {
		t.Errorf("of a mirrored sheet it is said: %s", words)
	}
	for i := range s.Planes[0].Pix {
		mean := (float64(s.Planes[0].Pix[i]) + float64(s.Planes[1].Pix[i]) + float64(s.Planes[2].Pix[i])) / 3
		for _, one := range s.Planes {
			one.Pix[i] = uint16(min(max(mean+1.4*(float64(one.Pix[i])-mean), 1), 65000))
		}
	}
	if words := said(); !strings.Contains(words, "automatics may have been left on") {
		t.Errorf("of colours made livelier it is said: %s", words)
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
				for i, v := range s.Planes[ch].Pix[:s.W*s.H*6/10] {
					s.Planes[ch].Pix[i] = uint16(min(1.12*float64(v), 65535))
				}
			}
		},
		"A11 of the sheet is cut off": func(s *scan.Scan, target *flatbed.Target) { // with a black point, so that no target is found
			target.Corners = [3][2]float64{}
			for ch := range s.Planes {
				for i, v := range s.Planes[ch].Pix {
					s.Planes[ch].Pix[i] = max(v, 16000) - 16000
				}
			}
		},
		"at 210 pixels an inch, as the file says; if it is the test sheet": func(s *scan.Scan, _ *flatbed.Target) { s.PPI *= 2 },
		"of the target is cut off": func(s *scan.Scan, _ *flatbed.Target) { // with a black point
			for ch := range s.Planes {
				for i, v := range s.Planes[ch].Pix {
					s.Planes[ch].Pix[i] = max(v, 16000) - 16000
				}
			}
		},
		"not found for certain": func(s *scan.Scan, target *flatbed.Target) { // a sheet without one
			target.Corners = [3][2]float64{}
			for ch := range s.Planes {
				from := s.W * s.H * 7 / 10
				for i := range s.Planes[ch].Pix[from:] {
					s.Planes[ch].Pix[from+i] = uint16(58000 + i%7)
				}
			}
		},
		"outside of the scan": func(_ *scan.Scan, target *flatbed.Target) { target.Corners[2][1] += 500 },
		"pixels wide":         func(_ *scan.Scan, target *flatbed.Target) { target.Corners = [3][2]float64{{9, 9}, {9, 9}, {9, 9}} },
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
		if _, _, err := flatbed.Read([]*scan.Scan{&s}, target, sheet, recipe); err == nil || !strings.Contains(err.Error(), says) {
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

// BenchmarkRead finds sheet and chart on a scan, and reads the sheet.
func BenchmarkRead(b *testing.B) {
	p, _ := pigment.PaletteByID("chrome")
	sheet, recipe := testsheet.Of(p), stack.DefaultRecipe(p)
	refs, spectra, _ := flatbedtest.Chart()
	target, err := flatbed.ReadTarget([]byte(spectra))
	if err != nil {
		b.Fatal(err)
	}
	s, _ := flatbedtest.NewGlass().Scanned(flatbedtest.NewWorkshop(p), sheet, refs, 150, 3)
	for b.Loop() {
		if _, _, err := flatbed.Read([]*scan.Scan{s}, target, sheet, recipe); err != nil {
			b.Fatal(err)
		}
	}
}
