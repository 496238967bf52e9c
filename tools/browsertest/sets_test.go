package browsertest

import (
	"encoding/csv"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// scanOf writes a plate of 16 bits, its transmittance at any place.
func scanOf(t *testing.T, name string, w, h int, at func(x, y float64) float64) string {
	t.Helper()
	img := image.NewGray16(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray16(x, y, color.Gray16{Y: uint16(65535 * min(max(at(float64(x), float64(y)), 0), 1))})
		}
	}
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return path
}

// discs is an invented picture of soft discs, as transmittance.
func discs(seed uint64) func(x, y float64) float64 {
	type disc struct{ x, y, r, t float64 }
	rnd := rand.New(rand.NewPCG(seed, 3))
	var all []disc
	for range 220 {
		all = append(all, disc{640 * rnd.Float64(), 480 * rnd.Float64(), 4 + 26*rnd.Float64()*rnd.Float64(), 0.05 + 0.8*rnd.Float64()})
	}
	return func(x, y float64) float64 {
		t := 0.35
		for _, d := range all {
			if math.Abs(x-d.x) > d.r+1 || math.Abs(y-d.y) > d.r+1 { // the disc does not reach so far
				continue
			}
			t += (d.t - t) * min(max((d.r-math.Hypot(x-d.x, y-d.y))/2+0.5, 0), 1)
		}
		return t
	}
}

func grey(t float64) func(x, y float64) float64 {
	return func(float64, float64) float64 { return t }
}

// openSet drops three plates and waits until they are open and register is done.
func (p *page) openSet(name string, files [3]string) {
	p.t.Helper()
	p.drop(files[:]...)
	p.waitFor(`v.plates.length === 3 && v.plates.every((q) => q.file.startsWith(` + quoted(name) + `)) && v.registered === "auto" && v.idle`)
}

// TestLocalRegister opens a set of which one plate shrank unevenly: the local register
// betters the figures and changes the picture.
func TestLocalRegister(t *testing.T) {
	p := scans(t)
	scene := discs(5)
	p.openSet("bent", [3]string{
		scanOf(t, "bent_red.png", 640, 480, func(x, y float64) float64 {
			return scene(x-2.2*math.Sin(math.Pi*x/640), y-1.5*math.Sin(math.Pi*y/480))
		}),
		scanOf(t, "bent_green.png", 640, 480, scene),
		scanOf(t, "bent_blue.png", 640, 480, func(x, y float64) float64 { return math.Pow(scene(x, y), 1.2) }),
	})
	p.station()
	p.panelSays("worth switching on")
	before, picture := p.register(), p.settled()
	p.run(`[...document.querySelectorAll("#panel-register label")].find((l) => l.textContent.startsWith("Local register")).click()`)
	p.waitFor(`v.register.localUsed`)
	p.waitChanged(picture, "reference", 0.001)
	after := p.register()
	t.Logf("median %.3f px without, %.3f with; %s", before.Rows[0].Left.Median, after.Rows[0].Left.Median, after.Sentence)
	if !after.Rows[0].Left.Local || after.Rows[0].Left.Median > 0.6*before.Rows[0].Left.Median {
		t.Errorf("left over: %+v without, %+v with", before.Rows[0].Left, after.Rows[0].Left)
	}
	p.command("key", map[string]any{"filter": "red"})
	p.panelSays("it was found against another key")
}

// TestKeyIsProposed opens a set whose green plate is out of focus.
func TestKeyIsProposed(t *testing.T) {
	p := scans(t)
	scene := discs(6)
	soft := func(x, y float64) float64 {
		sum := 0.0
		for j := -2.0; j <= 2; j++ {
			for i := -2.0; i <= 2; i++ {
				sum += scene(x+1.6*i, y+1.6*j)
			}
		}
		return sum / 25
	}
	p.openSet("soft", [3]string{
		scanOf(t, "soft_red.png", 640, 480, scene), scanOf(t, "soft_green.png", 640, 480, soft),
		scanOf(t, "soft_blue.png", 640, 480, func(x, y float64) float64 { return math.Pow(scene(x, y), 1.2) }),
	})
	p.station()
	v := p.register()
	if v.Proposal == nil || v.Proposal.Key == "green" || !strings.Contains(v.Proposal.Why, "sharper") {
		t.Fatalf("proposed: %+v", v.Proposal)
	}
	p.panelSays(v.Proposal.Why)
	p.pressButton(fmt.Sprintf("Make the %s plate the key", v.Proposal.Key))
	p.waitFor(`v.key === ` + quoted(v.Proposal.Key))
}

// checkVerdict saves the report and the figures as a user does and reads the figures back.
func checkVerdict(t *testing.T, p *page, folder string) {
	t.Helper()
	p.station()
	p.pressButton("Report on register")
	checkPrinted(t, waitFile(t, folder, "register.html"), 0)
	p.pressButton("Save the figures as CSV")
	saved, err := os.ReadFile(waitFile(t, folder, ".csv"))
	if err != nil {
		t.Fatal(err)
	}
	text, marked := strings.CutPrefix(string(saved), "\ufeff")
	if !marked {
		t.Error("no byte-order mark: a spreadsheet misreads µ")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) < 40 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	v := p.register()
	found := map[string]string{}
	for _, r := range rows {
		found[r[0]+" "+r[1]] = r[2]
	}
	if found["verdict "] != "in register" || found["stars "] != fmt.Sprint(v.Stars) || found["lies_by red"] != "found" || found["lies_by green"] != "key" {
		t.Errorf("%q", found)
	}
}

// TestBadSets opens plates that cannot be registered: each is said in words, nothing
// counts as in register, and the plates can be laid by hand and by marks. Packages
// register and verdict hold more kinds of them.
func TestBadSets(t *testing.T) {
	p := scans(t)
	a, b, c := discs(1), discs(2), discs(3)
	for _, set := range []struct {
		name  string
		words string
		files [3]string
	}{
		{"grey", "one grey", [3]string{scanOf(t, "grey_red.png", 640, 480, grey(0.4)), scanOf(t, "grey_green.png", 640, 480, a), scanOf(t, "grey_blue.png", 640, 480, grey(0.5))}},
		{"wide", "and another shape: its long side is 3.0 times the short one, the key's 1.3", [3]string{scanOf(t, "wide_red.png", 600, 200, a), scanOf(t, "wide_green.png", 480, 360, b), scanOf(t, "wide_blue.png", 600, 200, c)}},
	} {
		p.openSet(set.name, set.files)
		p.station()
		v := p.register()
		t.Logf("%s: %s", set.name, v.Sentence)
		if v.Sign != "unsure" || !strings.Contains(v.Sentence, set.words) || v.Stars != 0 {
			t.Errorf("%s: %s, %q, %d stars", set.name, v.Sign, v.Sentence, v.Stars)
		}
		p.panelSays(v.Sentence)
		p.enter("The picture lies to the right by, red plate", "1")
		p.waitFor(`v.register.rows[0].way === "hand" && v.register.rows[0].pose.dxPx === 1`)
		p.pressButton("Centre on centre, red plate")
		p.waitFor(`v.register.rows[0].way === "hand"`)
		p.pressButton("Measure again from here, red plate")
		p.waitFor(`v.idle && (v.register.rows[0].way === "found" || v.messages.some((m) => m.text.includes("measured from where it lies")))`)
		for source := range 3 {
			p.command("pin", map[string]any{"n": 1, "source": source, "x": 1, "y": 1})
		}
		p.command("registerBy", map[string]any{"id": "marks"})
		p.waitFor(`v.register.rows[0].way === "marks" && v.register.rows[2].way === "marks"`)
		if v := p.register(); v.Sign == "in" {
			t.Errorf("%s: laid by one mark and called %s", set.name, v.Sentence)
		}
	}

	// one plate given twice is not opened at all
	twin := scanOf(t, "twin_red.png", 640, 480, a)
	p.drop(twin, under(t, twin, "twin_green.png"), scanOf(t, "twin_blue.png", 640, 480, b))
	p.waitFor(`v.idle && v.messages.some((m) => m.text.includes("the same scan twice") && m.text.includes("twin_red.png"))`)
}
