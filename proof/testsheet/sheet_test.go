package testsheet

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/relief"
)

// What the sheet must hold of every palette: enough steps where the tissue works and
// where it begins, each kind of patch, and no more than can be measured in a sitting.
func TestSheetHoldsWhatTheFitNeeds(t *testing.T) {
	for _, palette := range pigment.Palettes() {
		s := Of(palette)
		if n := len(s.Patches); n > 120 {
			t.Errorf("%s: %d patches", palette.ID, n)
		}
		places, count := map[[2]int]bool{}, map[string]int{}
		var within, near, dark [3]int
		bare := map[string]int{}
		steps, layers := map[[3]float64]int{}, map[int]int{}
		for _, p := range s.Patches {
			if at := [2]int{p.Row, p.Col}; places[at] || p.Row >= s.Rows || p.Col >= s.Cols || p.ID != ID(p.Row, p.Col) {
				t.Errorf("%s: patch %s lies badly", palette.ID, p.ID)
			} else {
				places[at] = true
			}
			if (p.Ground == Dark) != (p.Row >= s.DarkRow) {
				t.Errorf("%s: patch %s on %s", palette.ID, p.ID, p.Ground)
			}
			count[p.Use]++
			if p.Use == Repeat {
				steps[p.LogE]++
			}
			if p.Use == HeldOut {
				if p.Layers() < 2 || p.Ground != White {
					t.Errorf("%s: held-out patch %s is no overprint on white", palette.ID, p.ID)
				}
				for _, other := range s.Patches {
					if other.Use != HeldOut && other.LogE == p.LogE && other.Has == p.Has {
						t.Errorf("%s: held-out patch %s is fitted as %s", palette.ID, p.ID, other.ID)
					}
				}
			}
			switch p.Layers() {
			case 0:
				bare[p.Ground]++
			case 1:
				for i, has := range p.Has {
					if !has {
						continue
					}
					reach := min(relief.Of(palette.Layer(pigment.Printer(i))).Range(), mostReach) // by the law, not by ScaleOf
					if p.Ground == Dark {
						dark[i]++
						continue
					}
					if p.LogE[i] >= -reach {
						within[i]++
					}
					if math.Abs(p.LogE[i]+reach) <= 0.1 {
						near[i]++
					}
				}
			default:
				if p.Use == Fit {
					layers[p.Layers()]++
				}
			}
		}
		if len(steps) != 1 || count[Repeat] != 5 {
			t.Errorf("%s: the repeats are %v", palette.ID, steps)
		}
		if count[HeldOut] < 12 || layers[2] < 6 || layers[3] < 1+9+19+13+4 || bare[White] == 0 || bare[Dark] == 0 {
			t.Errorf("%s: %v, overprints %v, bare %v", palette.ID, count, layers, bare)
		}
		for i := range within {
			if within[i] < 9 || near[i] < 4 || dark[i] != 3 {
				t.Errorf("%s, %s: %d steps within the range, %d at the threshold, %d over the dark ground", palette.ID, pigment.Printer(i), within[i], near[i], dark[i])
			}
		}
	}
}

// A tissue whose curve was measured gets the steps of its sheet by that curve, between
// where it begins and its whole coat, and shares and exposures are each other's inverse.
func TestScaleFollowsAMeasuredCurve(t *testing.T) {
	p, _ := pigment.PaletteByID("arylide")
	tissue := p.Cyan
	tissue.Hardening.Wedge = []pigment.Printed{{LogExposure: -1.2}, {LogExposure: -0.9, Micron: 12}, {LogExposure: 0.1, Micron: 24}}
	s := ScaleOf(tissue)
	if math.Abs(s.Reach-1.3) > 1e-9 || math.Abs(s.LogE(0.5)+1) > 1e-6 || math.Abs(s.LogE(1)) > 1e-6 {
		t.Errorf("reach %g, half at %g, all at %g", s.Reach, s.LogE(0.5), s.LogE(1))
	}
	for _, share := range []float64{0.1, 0.4, 0.8} {
		if back := s.Share(s.LogE(share)); math.Abs(back-share) > 1e-6 {
			t.Errorf("a share of %g comes back as %g", share, back)
		}
	}
}

// The middle block of greys has 19, in steps of 0.05 of yellow and of magenta, cyan the same; the
// light and the deep one have 13, in steps twice as wide where nobody has measured the tissues, or
// where the neutral lay beyond them. Of such tissues the light one has 9.
// The plan as JSON tells them too.
func TestBlocksOfGreys(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	known := p
	known.Measured = &pigment.Measurement{Way: pigment.Eye}
	told := p // the light neutral at the end of its block, the middle one within, the deep one between two at the end
	told.Measured = &pigment.Measurement{Way: pigment.Eye, Seen: &pigment.Seen{Light: "F4", Neutral: "E9", Deep: "C5 B4"}}
	for i, palette := range []pigment.Palette{p, known, told} {
		s := Of(palette)
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		if s, _, err = Read(text); err != nil {
			t.Fatal(err)
		}
		blocks := s.Blocks()
		if len(blocks) != 3 {
			t.Fatalf("%d blocks", len(blocks))
		}
		light, deep := [3]float64{0.1, 0.05, 0.1}[i], [3]float64{0.1, 0.05, 0.05}[i]
		for k, block := range blocks {
			step := [3]float64{light, 0.05, deep}[k]
			if n := len(block.Patches); n != [3]int{[3]int{9, 13, 13}[i], 19, 13}[k] || block.Step != step {
				t.Errorf("block %d: %d greys in steps of %g", k, n, block.Step)
			}
			for _, a := range block.Patches {
				for _, b := range block.Patches {
					dy, dm := a.LogE[0]-b.LogE[0], a.LogE[1]-b.LogE[1]
					if math.Abs(dy-step*float64(a.Col-b.Col)) > 1e-9 || math.Abs(dm-step*float64(a.Row-b.Row)) > 1e-9 || a.LogE[2] != b.LogE[2] || a.Layers() != 3 {
						t.Fatalf("%s and %s: %v, %v", a.ID, b.ID, a.LogE, b.LogE)
					}
				}
			}
			if k > 0 && block.Patches[0].LogE[2] <= blocks[k-1].Patches[0].LogE[2] {
				t.Errorf("block %d is no deeper than the one before", k)
			}
		}
	}
}

// No palette's blocks take other greys for theirs, nor is one of them lost.
func TestEachPaletteHasItsBlocks(t *testing.T) {
	for _, palette := range pigment.Palettes() {
		s := Of(palette)
		var counts [3]int
		for k, b := range s.Blocks() {
			counts[min(k, 2)] += len(b.Patches)
		}
		if counts != [3]int{9, 19, 13} {
			t.Errorf("%s: blocks of %v", palette.ID, counts)
		}
	}
}

// Where a layer that nobody has measured may begin, from 0.62 of its range to its threshold, no two
// exposures of it lie farther
// apart than 0.09. The dark ground is bare in three places.
func TestNoGapWhereALayerMayBegin(t *testing.T) {
	for _, palette := range pigment.Palettes() {
		s := Of(palette)
		for i := range 3 {
			var at []float64
			bare := 0
			for _, p := range s.Patches {
				if p.Has[i] && p.Use != HeldOut {
					at = append(at, p.LogE[i])
				}
				if p.Ground == Dark && p.Bare() {
					bare++
				}
			}
			slices.Sort(at)
			for k := 1; k < len(at); k++ {
				if at[k] > s.Threshold[i] && at[k-1] < 0.62*s.Threshold[i]-0.005 && at[k]-at[k-1] > 0.09+1e-9 {
					t.Errorf("%s, %s: nothing between %.2f and %.2f", palette.ID, pigment.Printer(i), at[k-1], at[k])
				}
			}
			if bare != 3 {
				t.Errorf("%s: the dark ground is bare in %d places", palette.ID, bare)
			}
		}
	}
}

// A plan that was written when there was one block, of other shape and place, has that one.
func TestBlockOfEarlierPlans(t *testing.T) {
	s := Sheet{}
	for i := -2; i <= 2; i++ {
		for j := -2; j <= 2; j++ {
			if i+j <= 2 && i+j >= -2 {
				s.Patches = append(s.Patches, Patch{ID: ID(4+j, 8+i), Row: 4 + j, Col: 8 + i, Use: Fit, Ground: White, Has: [3]bool{true, true, true}, LogE: [3]float64{-0.5 + 0.05*float64(i), -0.6 + 0.05*float64(j), -0.55}})
			}
		}
	}
	b := s.Blocks()
	if len(b) != 1 || len(b[0].Patches) != 19 || b[0].Step != 0.05 || !b[0].Has("E9") || b[0].Has("C7") {
		t.Fatalf("%+v", b)
	}
	middle, _ := s.Find("E9")
	if end, _ := s.Find("C9"); b[0].Ends(middle) || !b[0].Ends(end) {
		t.Error("where it ends is wrong")
	}
}

// A slope over the sheet must be no colour: where a wedge's steps lie has as good as
// nothing to do with how dark they are.
func TestPlacesDoNotFollowExposure(t *testing.T) {
	for _, palette := range pigment.Palettes() {
		s := Of(palette)
		for i := range 3 {
			var row, col, logE []float64
			for _, p := range s.Patches {
				if p.Layers() == 1 && p.Has[i] && p.Ground == White {
					row, col, logE = append(row, float64(p.Row)), append(col, float64(p.Col)), append(logE, p.LogE[i])
				}
			}
			// Of 16 values without any bond one in a thousand correlates by more than 0.75.
			if a, b := correlation(row, logE), correlation(col, logE); math.Abs(a) > 0.75 || math.Abs(b) > 0.75 {
				t.Errorf("%s, layer %d: %.2f down, %.2f across", palette.ID, i, a, b)
			}
		}
	}
}

func correlation(x, y []float64) float64 {
	var sx, sy, sxx, syy, sxy float64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, syy, sxy = sxx+x[i]*x[i], syy+y[i]*y[i], sxy+x[i]*y[i]
	}
	n := float64(len(x))
	return (n*sxy - sx*sy) / math.Sqrt((n*sxx-sx*sx)*(n*syy-sy*sy))
}

// The same palette gives the same sheet, and its JSON is read back as it was.
func TestPlanIsReadBack(t *testing.T) {
	p, _ := pigment.PaletteByID("earth")
	s := Of(p)
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := json.Marshal(Of(p)); err != nil || !bytes.Equal(text, again) {
		t.Fatalf("another time it is another sheet: %v", err)
	}
	file, err := s.File(p, "a tool", "2026-03-02T10:20:00Z")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range [][]byte{text, file} { // with and without what says of which sheet it is
		back, of, err := Read(text)
		if len(text) == len(file) && (of != Origin{p.Name, "2026-03-02T10:20:00Z"}) {
			t.Errorf("the plan comes from %+v", of)
		}
		if err != nil || back.Code() != s.Code() || !reflect.DeepEqual(back.Patches, s.Patches) || back.Rows != s.Rows || back.Cols != s.Cols {
			t.Fatalf("%v", err)
		}
	}
	for _, want := range []string{`"logE":{"yellow":null,"magenta":null,"cyan":null}`, `"use":"held-out"`, `"ground":"dark"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in the plan", want)
		}
	}
	if strings.Contains(string(text), ":-0,") {
		t.Error("a minus before nothing")
	}
}

func TestPlanRefuses(t *testing.T) {
	one := func(id, use, ground, y string) string {
		return `{"patches":[{"id":"` + id + `","use":"` + use + `","ground":"` + ground + `","logE":{"yellow":` + y + `,"magenta":null,"cyan":null}}]}`
	}
	for text, want := range map[string]string{
		"{":                             "no plan",
		"{}":                            "0 patches",
		one("A0", "fit", "white", "0"):  "no place",
		one("a1", "fit", "white", "0"):  "no place",
		one("A01", "fit", "white", "0"): "no place",
		one("A1", "none", "white", "0"): "no use",
		one("A1", "fit", "grey", "0"):   "no ground",
		one("A1", "fit", "white", "-9"): "log exposure",
		`{"patches":[{"id":"A1","use":"fit","ground":"white"},{"id":"A1","use":"fit","ground":"white"}]}`: "twice",
	} {
		if _, _, err := Read([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// A code is of the exposures and the places, not of the order that they are written in, and a
// name with it is found again in what was written of the sheet.
func TestCodeTellsSheetsApart(t *testing.T) {
	p := pigment.Palettes()[0]
	s := Of(p)
	codes := map[string]string{s.Code(): "the sheet"}
	again := Of(p)
	slices.Reverse(again.Patches)
	if again.Code() != s.Code() {
		t.Error("in another order it has another code")
	}
	moved, lighter, fewer := Of(p), Of(p), Of(p)
	moved.Patches[3].ID, moved.Patches[4].ID = moved.Patches[4].ID, moved.Patches[3].ID
	for i := range lighter.Patches {
		if lighter.Patches[i].Has[pigment.Cyan] {
			lighter.Patches[i].LogE[pigment.Cyan] += 0.01
			break
		}
	}
	fewer.Patches = fewer.Patches[1:]
	for what, other := range map[string]Sheet{"two places changed": moved, "one patch with more light": lighter, "a patch less": fewer, "another palette": Of(pigment.Palettes()[1])} {
		code := other.Code()
		if was, taken := codes[code]; taken || !IsCode(code) {
			t.Errorf("%s: the code is %s, that of %s", what, code, was)
		}
		codes[code] = what
	}
	// It is the same in every version: FNV-1a (IETF draft-eastlake-fnv) of the plan's text, 5 bits a sign,
	// worked out apart from this program.
	one, _, err := Read([]byte(`{"patches":[{"id":"A1","use":"fit","ground":"white","logE":{"yellow":-0.35,"magenta":null,"cyan":null}}]}`))
	if err != nil || one.Code() != "EYXU" {
		t.Errorf("a plan of one patch has the code %s (%v)", one.Code(), err)
	}
	for text, want := range map[string]string{
		"\ufeff\"# " + s.Name(p) + " · Threeply v1\"\nLAYER,": s.Code(),
		"a test sheet K7PI of the palette x":                  "none",
		"a test sheet, and test sheet K7PQ of the palette x":  "K7PQ",
		"# test sheet of the palette x (places by seed 1931)": "",
		"test sheet K7PQ": "none",
		"":                "none",
	} {
		code, ok := Named(text)
		if !ok {
			code = "none"
		}
		if code != want {
			t.Errorf("%q is of sheet %q, want %q", text, code, want)
		}
	}
}
