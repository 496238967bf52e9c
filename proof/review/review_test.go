package review

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/picture/picturetest"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/survey"
)

var made = label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}

// reviewed is a set of a picture whose left half is light and whose right half is dark,
// with notes and a decision.
func reviewed(t *testing.T, commands ...command.Command) (session.State, [3]*plane.Plane) {
	t.Helper()
	s, planes := picturetest.Scene(96, func(_, x, _ int) float64 {
		if x < 48 {
			return 0.8
		}
		return 0.1
	})
	h := command.NewHistory(s)
	for _, c := range commands {
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
	}
	return h.State, planes
}

func text(s string) *string { return &s }

const at = "2026-03-02T10:20:00Z"

func written(t *testing.T, s *session.State, planes [3]*plane.Plane) (*Sheet, *html.Node) {
	t.Helper()
	sheet, err := Of(s, planes, made, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.Write(&b); err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(&b)
	if err != nil {
		t.Fatal(err)
	}
	return sheet, doc
}

// textOf is all text below a node; blanks and lines run together.
func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "style" {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// pictures are those of a page, decoded, in order.
func pictures(t *testing.T, doc *html.Node) (out []image.Image) {
	t.Helper()
	for n := range doc.Descendants() {
		if n.Data != "img" {
			continue
		}
		data, ok := strings.CutPrefix(attribute(n, "src"), "data:image/jpeg;base64,")
		raw, err := base64.StdEncoding.DecodeString(data)
		if !ok || err != nil {
			t.Fatalf("a picture from %.40s (%v)", attribute(n, "src"), err)
		}
		img, err := jpeg.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, img)
	}
	return out
}

func grey(img image.Image, x, y int) float64 {
	r, g, b, _ := img.At(x, y).RGBA()
	return float64(r+g+b) / 3 / 65535
}

// The page holds what was decided and noted, where it was noted, and what all of it rests
// on; its pictures show the reference and the print.
func TestSheet(t *testing.T) {
	s, planes := reviewed(t,
		command.Identify{Number: text("1937.0412")},
		command.Note{X: 23.5, Y: 71.5, Title: "Sky", Text: "Too <b>pale</b>?", By: "IM", At: at},
		command.Palette{ID: "earth"},
		command.HoldPoint{X: 23.5, Y: 23.5}, command.HoldPoint{X: 80, Y: 20},
		command.Note{X: 80, Y: 10, Title: "Wall", At: at}, command.EditNote{N: 2, State: text(session.NotePrinter)},
		command.Decide{Choice: text("Earth"), Reason: text("The wall is right."), By: text("IM"), Date: text("2026-03-02"), Questions: text("Is the sky stained?")},
	)
	sheet, doc := written(t, &s, planes)
	all := textOf(doc)
	for _, says := range []string{
		"1937.0412", "Estimate from published or remembered pigment spectra", "Choice Earth", "The wall is right.", "Is the sky stained?", "Decided for, an estimate",
		"Too <b>pale</b>?", "IM , 2 March 2026, 10:20 UTC", "for the printmaker", "Seen on: Clear arylide", "Seen on: Earth and viridian", "nine of ten prints", "Signature", "red.tif", "its content is not known",
		"Threeply v1", "Chosen, by", "Assumed, for", "Measured, from", "Out of reach of these tissues", "Permanence of the cyan", "Left of the cyan on show", "after 50 years on show at 50 lx",
	} {
		if !strings.Contains(all, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if strings.Contains(all, "Shown last") || len(sheet.Prints) != 1 {
		t.Errorf("%d prints, though the one decided for is shown", len(sheet.Prints))
	}
	dots := 0
	for n := range doc.Descendants() {
		if attribute(n, "class") == "dot point" && textOf(n) == "1" && attribute(n, "style") != "left:25.00%;top:25.00%" {
			t.Errorf("point 1 lies at %s", attribute(n, "style"))
		}
		if attribute(n, "class") == "dot" && textOf(n) == "1" {
			if dots++; attribute(n, "style") != "left:25.00%;top:75.00%" {
				t.Errorf("note 1 lies at %s", attribute(n, "style"))
			}
		}
	}
	if dots != 2 { // on the reference and on the print
		t.Errorf("note 1 lies on %d pictures", dots)
	}
	imgs := pictures(t, doc)
	if len(imgs) != 2+2*2+2 { // the whole, crops of two notes, register
		t.Fatalf("%d pictures", len(imgs))
	}
	for i, img := range imgs[:2] {
		b := img.Bounds()
		if light, dark := grey(img, b.Dx()/4, b.Dy()/2), grey(img, 3*b.Dx()/4, b.Dy()/2); !(light > dark+0.2) || b.Dx() != 96 || b.Dy() != 96 {
			t.Errorf("picture %d of %v: light half %.2f, dark half %.2f", i, b, light, dark)
		}
	}
	for i, img := range imgs[2:6] {
		b := img.Bounds()
		if v := grey(img, b.Dx()/2, b.Dy()/2); (v > 0.5) != (i < 2) {
			t.Errorf("crop %d is %.2f in its middle", i, v)
		}
	}
	if first, second := sheet.Notes[0], sheet.Notes[1]; first.Print == second.Print || first.Reference == second.Reference || first.DeltaE == "" {
		t.Errorf("colours %q and %q", first.Print, second.Print)
	}
}

// The places where plates lie worst are shown, one after the other and none twice.
func TestWorstPlacesAreShown(t *testing.T) {
	s, planes := reviewed(t)
	for i := range s.Sources {
		s.Survey[i] = survey.New([4]int{0, 0, 95, 95}, 100)
		s.Survey[i].Cells = strings.Repeat(string(survey.Measured), len(s.Survey[i].Cells))
	}
	m := &s.Survey[s.Assign[filter.Red]]
	if m.Across != 10 || m.Down != 10 {
		t.Fatalf("%d × %d cells", m.Across, m.Down)
	}
	m.DX[0], m.DX[1], m.DX[9], m.DX[90], m.DX[55] = 4, 3.9, 3, 2, 1 // the second lies beside the first
	sheet, _ := written(t, &s, planes)
	var says []string
	for _, crop := range sheet.Register.Crops {
		if where, found := strings.CutPrefix(crop.Caption, "Reference where cyan and yellow lie "); found {
			says = append(says, where)
		}
	}
	// ten cells of 9.5 pixels, the first pixel's edge at -0.5: middles at 4.25, 13.75 … 89.75 less that half
	want := []string{"farthest apart, about the key's pixel 4, 4", "far apart too, about the key's pixel 89, 4", "far apart too, about the key's pixel 4, 89"}
	if !slices.Equal(says, want) || len(sheet.Register.Crops) != 6 {
		t.Errorf("shown are %q", says)
	}
}

// The points are read as the notes are, on the print that was decided for; a light grey is
// shown as sRGB has it: 0.8 of white is 231 of 255 (IEC 61966-2-1).
func TestPointsAreRead(t *testing.T) {
	s, planes := reviewed(t, command.HoldPoint{X: 20, Y: 20}, command.Note{X: 20, Y: 20, At: at}, command.HoldPoint{X: 80, Y: 20}, command.HoldPoint{X: 30, Y: 20}, command.DropPoint{N: new(2)})
	sheet, _ := written(t, &s, planes)
	if len(sheet.Points) != 2 || sheet.Points[0].N != 1 || sheet.Points[1].N != 3 {
		t.Fatalf("points are %+v", sheet.Points)
	}
	p, n := sheet.Points[0], sheet.Notes[0]
	if p.Reference.Words != n.Reference || p.Print.Words != n.Print || p.DeltaE != n.DeltaE {
		t.Errorf("the point is %+v, the note there %q, %q, %s", p, n.Reference, n.Print, n.DeltaE)
	}
	var r, g, b int
	if _, err := fmt.Sscanf(p.Reference.Shown, "#%02x%02x%02x", &r, &g, &b); err != nil || max(r-231, 231-r) > 1 || max(g-231, 231-g) > 1 || max(b-231, 231-b) > 1 {
		t.Errorf("the reference is shown as %s (%v)", p.Reference.Shown, err)
	}
	if !strings.Contains(p.Heights, "cyan ") || !strings.Contains(p.Reach, "printed") || p.Density == "" {
		t.Errorf("%+v", p)
	}
}

// The colours of a note are those that are known beforehand: a light of 0.8 of white is
// L* 91.7 in the reference (CIE 15:2018, section 8.2.1).
func TestColoursOfANote(t *testing.T) {
	s, planes := reviewed(t, command.Note{X: 20, Y: 20, At: at})
	sheet, _ := written(t, &s, planes)
	var L, a, b float64
	if _, err := fmt.Sscanf(strings.ReplaceAll(sheet.Notes[0].Reference, "−", "-"), "L* %f a* %f b* %f", &L, &a, &b); err != nil {
		t.Fatal(err)
	}
	if want := picturetest.Lightness(0.8); math.Abs(L-want) > 0.6 || math.Hypot(a, b) > 0.6 { // whole numbers are said
		t.Errorf("the reference is %q, want L* %.1f", sheet.Notes[0].Reference, want)
	}
}

// Another print than the one decided for is shown apart; a print that is gone is said in
// words; a note off the picture has no pictures.
func TestWhatIsNotThereAnyMore(t *testing.T) {
	s, planes := reviewed(t, command.Decide{Choice: text("Arylide")}, command.Palette{ID: "chrome"}, command.Note{X: 1, Y: 1, At: at})
	sheet, doc := written(t, &s, planes)
	if len(sheet.Prints) != 2 || !strings.Contains(textOf(doc), "Shown last, not decided for") {
		t.Errorf("%d prints", len(sheet.Prints))
	}
	s.Decision.Seen.Palette, s.Decision.Seen.Words = "gone", "Old lake"
	s.Notes[0].Seen = *s.Decision.Seen
	sheet, doc = written(t, &s, planes)
	if all := textOf(doc); !strings.Contains(all, "it was: Old lake") || !strings.Contains(all, "can not be shown") || len(sheet.Notes[0].Crops) != 0 {
		t.Error("a print that is gone is not said")
	}
	s.Decision.Choice, s.Decision.Reason, s.Decision.By, s.Decision.Date = "", "For the reds", "IM", "2026-03-02" // the choice was taken out again
	s.Sources[1].Area = [4]int{30, 30, 90, 90}
	sheet, doc = written(t, &s, planes)
	for _, want := range []string{"Nothing is decided yet.", "For the reds", "IM", "2026-03-02"} {
		if !strings.Contains(textOf(doc), want) {
			t.Errorf("without a choice the sheet does not say %q", want)
		}
	}
	if sheet.Notes[0].Gone == "" || len(sheet.Reference.Dots) != 0 {
		t.Error("a note beyond the picture lies on it")
	}
	whole, err := Of(&s, planes, made, Options{Edges: true}, nil)
	if err != nil || len(whole.Reference.Dots) != 1 || whole.Reference.W != 96 || sheet.Reference.W != 60 {
		t.Errorf("with edges %d wide, without %d (%v)", whole.Reference.W, sheet.Reference.W, err)
	}
}

// Whatever is typed is text, and marked: another language leaves it.
func TestHostileText(t *testing.T) {
	hostile := `</bdi><script>alert(1)</script>` + "\u202e"
	s, planes := reviewed(t, command.Title{Text: hostile}, command.Identify{Number: text(hostile)}, command.Note{X: 9, Y: 9, Title: hostile, Text: hostile, By: hostile, At: at}, command.Decide{Choice: text(hostile), Reason: text(hostile)})
	_, doc := written(t, &s, planes)
	for n := range doc.Descendants() {
		if n.Data == "script" {
			t.Error("a script")
		}
		if n.Type == html.TextNode && strings.Contains(n.Data, "\u202e") && n.Parent.Data != "title" && (n.Parent.Data != "bdi" || !slices.Contains(n.Parent.Attr, html.Attribute{Key: "translate", Val: "no"})) {
			t.Errorf("letters from right to left stand in a %s with %v", n.Parent.Data, n.Parent.Attr)
		}
	}
}
