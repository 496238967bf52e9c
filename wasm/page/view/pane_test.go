package view

import (
	"image"
	"math"
	"slices"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// looking gives a view of a stage of 800 × 500 CSS pixels at the session of three
// plates, whose key is 1001 × 700.
func looking(t *testing.T, look string) (*View, *session.State) {
	t.Helper()
	s := sessiontest.Opened()
	v := New()
	v.Resize(Stage{W: 800, H: 500, Ratio: 1})
	v.NewSet(&s)
	do(t, v, &s, TakeLook{look})
	return v, &s
}

func do(t *testing.T, v *View, s *session.State, c Command) {
	t.Helper()
	if err := v.Do(c, Subject{s, &Residual{}}); err != nil {
		t.Fatalf("%#v: %v", c, err)
	}
}

// The table of 800 × 500, with an edge of 10, paper of 7 and captions of 48, leaves room for
// 766 × 428 at 17, 55: two panes of (766-26)/2 = 370, three of (766-52)/3 = 238.
func TestPanesOfEveryLook(t *testing.T) {
	whole := Box{17, 55, 766, 428}
	left, right := Box{17, 55, 370, 428}, Box{413, 55, 370, 428}
	three := [3]Box{{17, 55, 238, 428}, {281, 55, 238, 428}, {545, 55, 238, 428}}
	type want struct {
		Box
		id    string
		shows Shows
	}
	looks := map[string][]want{
		"beside":     {{left, "reference", ShowsReference}, {right, "print", ShowsPrint}},
		"divided":    {{Box{17, 55, 383, 428}, "reference", ShowsReference}, {Box{400, 55, 383, 428}, "print", ShowsPrint}},
		"blink":      {{whole, "reference", ShowsReference}},
		"difference": {{whole, "difference", ShowsDifference}},
		"reach":      {{whole, "reach", ShowsReach}},
		"sure":       {{three[0], "lighter", ShowsPrint}, {three[1], "print", ShowsPrint}, {three[2], "heavier", ShowsPrint}},
		"palettes":   {{left, "print", ShowsPrint}, {right, "other", ShowsPrint}},
		"ways":       {{left, "straight", ShowsPrint}, {right, "tuned", ShowsPrint}},
		"dots":       {{left, "continuous", ShowsPrint}, {right, "dots", ShowsPrint}},
		"masks":      {{left, "unmasked", ShowsPrint}, {right, "masked", ShowsPrint}},
		"outside":    {{whole, "outside", ShowsOutside}},
		"losses":     {{three[0], "losses-cyan", ShowsLosses}, {three[1], "losses-magenta", ShowsLosses}, {three[2], "losses-yellow", ShowsLosses}},
		"exposed":    {{three[0], "under", ShowsPrint}, {three[1], "print", ShowsPrint}, {three[2], "over", ShowsPrint}},
		"rooms":      {{left, "bench", ShowsPrint}, {right, "gallery", ShowsPrint}},
		"faded":      {{three[0], "print", ShowsPrint}, {three[1], "kept", ShowsPrint}, {three[2], "faded", ShowsPrint}},
		"board":      nil,
		"layer":      {{whole, "layer", ShowsPrint}},
		"plate":      {{whole, "plate", ShowsPlate}},
		"turns":      {{whole, "plate", ShowsPlate}},
		"edges":      {{whole, "edges", ShowsEdges}},
		"marks":      {{three[0], "plate-red", ShowsPlate}, {three[1], "plate-green", ShowsPlate}, {three[2], "plate-blue", ShowsPlate}},
	}
	for _, l := range Looks {
		want, ok := looks[l.ID]
		if !ok {
			t.Errorf("no pane is wanted of the look %q", l.ID)
		}
		v, _ := looking(t, l.ID)
		panes := v.Panes()
		if len(panes) != len(want) {
			t.Errorf("%s has %d panes, want %d", l.ID, len(panes), len(want))
			continue
		}
		for i, p := range panes {
			if p.Box != want[i].Box || p.ID != want[i].id || p.Shows != want[i].shows {
				t.Errorf("%s, pane %d: %v %q shows %d, want %v", l.ID, i, p.Box, p.ID, p.Shows, want[i])
			}
		}
	}
}

func TestWhatPanesShow(t *testing.T) {
	v, s := looking(t, "sure")
	if p := v.Panes(); p[0].Variant != picture.VariantLighter || p[1].Variant != picture.VariantLikely || p[2].Variant != picture.VariantHeavier {
		t.Errorf("lighter, likely, heavier are %v %v %v", p[0].Variant, p[1].Variant, p[2].Variant)
	}
	do(t, v, s, TakeLook{"masks"})
	if p := v.Panes(); p[0].Masking != picture.MaskingOff || p[1].Masking != picture.MaskingOn {
		t.Errorf("unmasked and masked are %v %v", p[0].Masking, p[1].Masking)
	}
	do(t, v, s, TakeLook{"palettes"})
	if p := v.Panes(); p[0].Variant != picture.VariantLikely || p[1].Variant != picture.VariantOther || p[0].Masking != picture.MaskingChosen || p[1].Masking != picture.MaskingOther {
		t.Errorf("the two palettes are %+v", p)
	}
	do(t, v, s, TakeLook{"ways"})
	if p := v.Panes(); p[0].Variant != picture.VariantStraight || p[1].Variant != picture.VariantTuned || p[0].Masking != picture.MaskingOff || p[1].Masking != picture.MaskingOff {
		t.Errorf("straight and tuned are %+v", p)
	}
	do(t, v, s, TakeLook{"exposed"})
	if p := v.Panes(); p[0].Variant != picture.VariantUnder || p[1].Variant != picture.VariantLikely || p[2].Variant != picture.VariantOver {
		t.Errorf("under, likely and over are %v %v %v", p[0].Variant, p[1].Variant, p[2].Variant)
	}
	do(t, v, s, TakeLook{"losses"})
	if p := v.Panes(); p[0].Plate != pigment.Cyan || p[1].Plate != pigment.Magenta || p[2].Plate != pigment.Yellow {
		t.Errorf("the layers are %v %v %v", p[0].Plate, p[1].Plate, p[2].Plate)
	}
	do(t, v, s, TakeLook{"rooms"})
	if p := v.Panes(); p[0].Variant != picture.VariantBright || p[1].Variant != picture.VariantDim {
		t.Errorf("the rooms are %v %v", p[0].Variant, p[1].Variant)
	}
	do(t, v, s, TakeLook{"layer"})
	do(t, v, s, ShowLayer{"magenta"})
	if p := v.Panes(); p[0].Only != "magenta" {
		t.Errorf("the one layer is %q", p[0].Only)
	}
	do(t, v, s, TakeLook{"turns"})
	do(t, v, s, ComparePlates{0, 2})
	if p := v.Panes(); p[0].Plate != 0 {
		t.Errorf("the first plate by turns is %v", p[0].Plate)
	}
	do(t, v, s, Blink{})
	if p := v.Panes(); p[0].Plate != 2 || p[0].Label != "The red plate, as light" {
		t.Errorf("the second is %v, %q", p[0].Plate, p[0].Label)
	}
	do(t, v, s, TakeLook{"blink"})
	do(t, v, s, Blink{})
	if p := v.Panes(); p[0].Shows != ShowsPrint {
		t.Error("the second picture of blinking is not the print")
	}
}

// A stage that is too small shows nothing, and nothing on it panics.
func TestNoRoom(t *testing.T) {
	for _, l := range Looks {
		v, s := looking(t, l.ID)
		v.Resize(Stage{W: 60, H: 50, Ratio: 1})
		if panes := v.Panes(); len(panes) != 0 {
			t.Errorf("%s: %d panes on a stage of 60 × 50", l.ID, len(panes))
		}
		for _, c := range []Command{Zoom{By: 2}, Zoom{Fit: true}, Pan{DX: 5}, Hover{X: 10, Y: 10}, SetLoupe{On: true}, ReadColours{3, 4}} {
			do(t, v, s, c)
		}
		if panes, _ := v.LoupePanes(s); len(panes) != 0 {
			t.Errorf("%s: a loupe where there is no room", l.ID)
		}
	}
}

// In a fitted view the picture stands whole in the middle of the pane. The key of 1001 ×
// 700 in a pane of 370 × 428 is held by its width: 1001 · 370/1001 = 370 wide and
// 700 · 370/1001 = 258.7 high, from 55 + (428-258.7)/2 = 139.6 on.
func TestFit(t *testing.T) {
	v, s := looking(t, "beside")
	if want := 370.0 / 1001; math.Abs(v.Zoom-want) > 1e-12 {
		t.Errorf("the zoom is %g, want %g", v.Zoom, want)
	}
	if got, want := v.Covered(v.Panes()[0]), image.Rect(17, 140, 387, 398); got != want {
		t.Errorf("the picture covers %v, want %v", got, want)
	}
	v.Resize(Stage{W: 800, H: 500, Ratio: 2})
	if got, want := v.Covered(v.Panes()[1]), image.Rect(826, 279, 1566, 797); got != want {
		t.Errorf("with two device pixels a CSS pixel it covers %v, want %v", got, want)
	}
	do(t, v, s, Pan{DX: 30})
	zoom := v.Zoom
	v.Resize(Stage{W: 400, H: 300, Ratio: 2}) // room for 366 × 228: two panes of 170
	if v.Zoom != zoom || v.Fitted {
		t.Error("a view that is not fitted follows the stage")
	}
	do(t, v, s, Zoom{Fit: true})
	if want := 2 * 170.0 / 1001; math.Abs(v.Zoom-want) > 1e-12 {
		t.Errorf("fitted again the zoom is %g, want %g", v.Zoom, want)
	}
}

// Two prints of landscape shape lie one below the other where the table is narrow or a
// drawer covers its right: of 300 × 500 the room is 266 × 428, each (428-74)/2 = 177 high,
// against (266-26)/2 = 120 wide.
func TestPrintsBelowEachOther(t *testing.T) {
	v, _ := looking(t, "beside")
	for _, stage := range []Stage{{W: 300, H: 500, Ratio: 1}, {W: 720, H: 500, Ratio: 1, Right: 420}, {W: 300, H: 750, Ratio: 1, Bottom: 250}} {
		v.Resize(stage)
		p := v.Panes()
		if want := (Box{17, 55, 266, 177}); p[0].Box != want {
			t.Errorf("%+v: the first lies at %v, want %v", stage, p[0].Box, want)
		}
		if want := (Box{17, 55 + 177 + 74, 266, 177}); p[1].Box != want {
			t.Errorf("%+v: the second lies at %v, want %v", stage, p[1].Box, want)
		}
	}
	v.Resize(Stage{W: 300, H: 500, Ratio: 1, Caption: 90}) // longer words take room off the pictures
	if p := v.Panes(); p[0].Y != 97 || p[0].H != (386-116)/2 {
		t.Errorf("under words of 90 the first lies at %v", p[0].Box)
	}
}

// Paper lies around each picture; the halves of a divided one share a sheet.
func TestPaperAroundPictures(t *testing.T) {
	v, s := looking(t, "beside")
	if got, want := v.PaperOf(v.Panes()[0]), image.Rect(10, 133, 394, 405); got != want {
		t.Errorf("the paper is %v, want %v", got, want)
	}
	do(t, v, s, TakeLook{"divided"})
	panes := v.Panes()
	left, right := v.PaperOf(panes[0]), v.PaperOf(panes[1])
	if left.Max.X != right.Min.X || left.Min.X != v.Covered(panes[0]).Min.X-7 || right.Max.X != v.Covered(panes[1]).Max.X+7 {
		t.Errorf("the sheets of the halves are %v and %v", left, right)
	}
}

// Enlarging about a point leaves what is under it there, in every look and for every
// pane, as long as the picture is not held back by the stage.
func TestZoomKeepsThePoint(t *testing.T) {
	for _, l := range Looks {
		if l.ID == "marks" || l.ID == "board" {
			continue
		}
		for _, at := range [][2]float64{{100, 200}, {390, 300}, {600, 250}} {
			for _, ratio := range []float64{1, 1.5} {
				v, s := looking(t, l.ID)
				v.Resize(Stage{W: 800, H: 500, Ratio: ratio})
				x, y := v.KeyAt(at[0], at[1])
				for _, by := range []float64{3, 1.7, 0.6, 2} {
					do(t, v, s, Zoom{point: point{&at[0], &at[1]}, By: by})
					if kx, ky := v.KeyAt(at[0], at[1]); math.Hypot(kx-x, ky-y) > 1e-9 {
						t.Fatalf("%s, ratio %g: under %v lies %g, %g, before %g, %g", l.ID, ratio, at, kx, ky, x, y)
					}
				}
			}
		}
	}
}

func TestZoomHasLimits(t *testing.T) {
	v, s := looking(t, "beside")
	do(t, v, s, Zoom{By: 1e300})
	if v.Zoom != mostZoom {
		t.Errorf("the largest zoom is %g", v.Zoom)
	}
	do(t, v, s, Zoom{By: 1e-300})
	if want := 370.0 / 1001 / 2; math.Abs(v.Zoom-want) > 1e-12 {
		t.Errorf("the smallest zoom is %g, want half of what fits, %g", v.Zoom, want)
	}
	do(t, v, s, Zoom{Percent: 100})
	if v.Zoom != 1 {
		t.Errorf("100 %% is a zoom of %g", v.Zoom)
	}
}

// The picture's own middle may be anywhere in it, never beside it.
func TestHold(t *testing.T) {
	v, s := looking(t, "beside")
	do(t, v, s, Zoom{Percent: 100})
	do(t, v, s, Pan{DX: 5000, DY: -1e300})
	if v.Centre != [2]float64{-0.5, 699.5} {
		t.Errorf("the middle is %v, want the left lower corner", v.Centre)
	}
	do(t, v, s, Pan{DX: -100})
	if v.Centre != [2]float64{99.5, 699.5} {
		t.Errorf("100 to the left of it is %v", v.Centre)
	}
}

// The two halves of a divided picture are one picture: at the divider they meet.
func TestDividedIsOnePicture(t *testing.T) {
	v, s := looking(t, "divided")
	for _, share := range []float64{0.5, 0.2, 0.93} {
		do(t, v, s, MoveDivider{share})
		panes := v.Panes()
		if a, b := v.ToPixel(panes[0]), v.ToPixel(panes[1]); a != b {
			t.Errorf("at %g a device pixel is %v of the one and %v of the other", share, a, b)
		}
		if edge := panes[0].X + panes[0].W; edge != panes[1].X || edge != 17+math.Round(766*share) {
			t.Errorf("at %g the divider stands at %g and %g", share, edge, panes[1].X)
		}
	}
	do(t, v, s, MoveDivider{7})
	if v.Divider != mostShare {
		t.Errorf("the divider goes to %g", v.Divider)
	}
}

// What is shown is what all three plates hold within their borders.
func TestBorders(t *testing.T) {
	v, s := looking(t, "beside")
	for i := range s.Sources {
		s.Found[i].Matrix = affine.Identity
		s.Sources[i].Area = [4]int{50, 60, 900, 650}
	}
	s.Sources[0].Area = [4]int{70, 40, 950, 600}
	s.Found[0].Matrix = affine.Translate(10, 0) // key 100 is the red plate's 110
	v.Follow(s)
	if want := [4]float64{59.5, 59.5, 899.5, 599.5}; v.Shown != want {
		t.Errorf("shown is %v, want %v", v.Shown, want)
	}
	if want := [2]float64{479.5, 329.5}; v.Centre != want {
		t.Errorf("the fitted view is about %v, want %v", v.Centre, want)
	}
	do(t, v, s, ShowBorders{})
	if want := [4]float64{-0.5, -0.5, 1000.5, 699.5}; v.Shown != want {
		t.Errorf("with its borders shown is %v", v.Shown)
	}
	do(t, v, s, ShowBorders{Hidden: true})
	s.Sources[2].Area = [4]int{50, 60, 200, 650} // a mistake
	v.Follow(s)
	if want := [4]float64{-0.5, -0.5, 1000.5, 699.5}; v.Shown != want {
		t.Errorf("where the areas leave next to nothing, shown is %v", v.Shown)
	}
}

func TestReadingIsWithinThePicture(t *testing.T) {
	v, s := looking(t, "beside")
	do(t, v, s, ReadColours{598, 269})
	if v.Reading == nil || math.Hypot(v.Reading[0]-500, v.Reading[1]-349.5) > 0.51/v.Zoom {
		t.Errorf("in the middle of the print %v is read", v.Reading)
	}
	do(t, v, s, ReadColours{205, 60})
	if v.Reading != nil {
		t.Errorf("above the picture %v is read", *v.Reading)
	}
}

// Where plate edges are cut off, nothing is read of them.
func TestNothingIsReadOfWhatIsCutOff(t *testing.T) {
	v, s := looking(t, "beside")
	for i := range s.Sources {
		s.Sources[i].Area = [4]int{200, 100, 800, 600}
	}
	v.NewSet(s)
	p, _ := v.PaneAt(500, 269)
	seen := v.Covered(p)
	if seen.Min.Y <= int(p.Y)+2 && seen.Min.X <= int(p.X)+2 {
		t.Fatalf("the picture covers %v of %+v: nothing is beside it", seen, p.Box)
	}
	beside := [2]float64{float64(seen.Min.X) + 20, float64(seen.Min.Y) - 6}
	do(t, v, s, ReadColours{beside[0], beside[1] + 12})
	if v.Reading == nil {
		t.Error("nothing is read in the picture")
	}
	do(t, v, s, ReadColours{beside[0], beside[1]})
	if v.Reading != nil {
		t.Errorf("%v is read, which is cut off", *v.Reading)
	}
}

func TestToolsOfThePlates(t *testing.T) {
	v, s := looking(t, "beside")
	do(t, v, s, TakeTool{"nudge"})
	do(t, v, s, TakeTool{"pin"})
	if v.Look != "marks" || v.Tool != "pin" {
		t.Errorf("the tool that pins has the look %q and the tool %q", v.Look, v.Tool)
	}
	do(t, v, s, TakeLook{"edges"})
	if v.Tool != "nudge" {
		t.Errorf("leaving the plates the tool is %q, not that of before", v.Tool)
	}
	if !slices.ContainsFunc(Looks, func(n LookChoice) bool { return n.ID == v.Look }) {
		t.Error(v.Look)
	}
}

// The other palette is of another era than the session's until one is asked for, and
// never the session's own.
func TestOtherPalette(t *testing.T) {
	v, s := looking(t, "palettes")
	eraOf := func(id string) string {
		p, _ := s.PaletteByID(id)
		return p.Era
	}
	for _, c := range []struct{ own, era string }{{"arylide", "historic"}, {"earth", "modern"}} {
		s.Palette = c.own
		if got := v.OtherPalette(s); eraOf(got) != c.era {
			t.Errorf("beside %s stands %s, want a %s one", c.own, got, c.era)
		}
	}
	do(t, v, s, ShowOther{"gamboge"})
	if got := v.OtherPalette(s); got != "gamboge" {
		t.Errorf("gamboge was asked for, and %s stands", got)
	}
	s.Palette = "gamboge"
	if got := v.OtherPalette(s); eraOf(got) != "modern" {
		t.Errorf("beside gamboge itself stands %s", got)
	}
	if err := v.Do(ShowOther{"mauve"}, Subject{State: s}); err == nil {
		t.Error("a palette that is not there is taken")
	}
}
