package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"threeply/proof/picture"
)

// TestMasksOfPrinting reads how the open picture measures unmasked and masked, holds
// that to this machine, and turns the masks on: the print changes and says so.
func TestMasksOfPrinting(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "proof"})
	p.waitFor(`document.querySelector("#panel-proof .against .both").matches(":not([hidden]):not([aria-busy])")`)
	s, r := p.reduced()
	want, err := picture.TryMasks(&s, r)
	if err != nil || want.Masked == nil {
		t.Fatalf("%+v, %v", want, err)
	}
	read := func(table int) [][]string {
		return eval[[][]string](p, fmt.Sprintf(`[...document.querySelectorAll("#panel-proof .against table")[%d].querySelectorAll("tbody tr")].map(row => [...row.querySelectorAll("td")].map(e => e.textContent.replaceAll("\u00a0", " ")))`, table))
	}
	figures := func(format string, a, b float64) []string {
		return []string{fmt.Sprintf(format, a), fmt.Sprintf(format, b)}
	}
	a, b := want.Unmasked, *want.Masked
	for i, row := range [][]string{figures("%.1f %%", 100*a.Beyond, 100*b.Beyond), figures("%.1f", a.Mean, b.Mean), figures("%.1f", a.P95, b.P95)} {
		if got := read(0)[i]; strings.Join(got, " ") != strings.Join(row, " ") {
			t.Errorf("line %d says %q, want %q", i, got, row)
		}
	}
	minus := strings.NewReplacer("-0", "0", "-", "−")
	for i, row := range read(1) {
		for j, got := range row {
			if should := fmt.Sprintf("%.0f", 100*want.Masks[3*i+j]); got != minus.Replace(should) && got != should {
				t.Errorf("mask %d, %d is “%s”, want %s", i, j, got, should)
			}
		}
	}

	before := p.settled()
	p.run(`document.querySelector("#panel-proof .against input[value=masked]").click()`)
	p.waitFor(`v.masked && v.frames.find(f => f.id === "print").note.includes("masked")`)
	p.waitChanged(before, "print", 0.05)
	p.waitFor(`document.querySelector("#panel-proof .against").textContent.includes("Yule")`)
	p.waitFor(`[...document.querySelectorAll("#panel-proof .against .taken")].slice(0, 3).map(e => e.textContent.replaceAll("\u00a0", " ")).join(" ") === ` +
		quoted(fmt.Sprintf("%.1f %% %.1f %.1f", 100*b.Beyond, b.Mean, b.P95)))

	p.command("palette", map[string]any{"id": "gamboge"})
	s.Palette = "gamboge"
	if want, err = picture.TryMasks(&s, r); err != nil {
		t.Fatal(err)
	}
	says := func(table, line int, want []string) {
		t.Helper()
		p.waitFor(fmt.Sprintf(`[...document.querySelectorAll("#panel-proof .against table")[%d].querySelectorAll("tbody tr")[%d]?.querySelectorAll("td") ?? []].map(e => e.textContent.replaceAll("\u00a0", " ")).join(" ") === %s`, table, line, quoted(strings.Join(want, " "))))
	}
	says(0, 1, figures("%.1f", want.Unmasked.Mean, want.Masked.Mean))
	// what it is compared with is measured as it is
	p.command("hold", nil)
	p.command("side", map[string]any{"which": "left", "id": "held-1"})
	p.command("palette", map[string]any{"id": "earth"})
	p.waitFor(`document.querySelector("#panel-proof .compared").matches(":not([hidden])")`)
	s.Palette = "earth"
	other, err := picture.TryMasks(&s, r)
	if err != nil || other.Masked == nil {
		t.Fatal(err)
	}
	for i, row := range [][]string{figures("%.1f %%", 100*want.Masked.Beyond, 100*other.Masked.Beyond), figures("%.1f", want.Masked.Mean, other.Masked.Mean)} {
		says(2, i, row)
	}
	for label, look := range map[string]string{"Show where it differs": "difference", "Show what cannot be printed": "reach", "Show how far it may vary": "sure"} {
		p.run(`[...document.querySelectorAll("#panel-proof button")].find(b => b.textContent === ` + quoted(label) + `).click()`)
		p.waitFor(`v.look === ` + quoted(look))
	}
}

// TestHueOfTheCut turns the cut through the solid: by number, and to the point read.
func TestHueOfTheCut(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "proof"})
	p.waitFor(`document.querySelector("#panel-proof .computed").matches(":not([hidden]):not([aria-busy])")`)
	cut := `document.querySelectorAll("#panel-proof .outline .skin")[1].getAttribute("points")`
	first := eval[string](p, cut)
	p.command("hue", map[string]any{"degrees": 95})
	p.waitFor(cut + ` !== ` + quoted(first))
	frame := p.frameRect("reference").Sub(p.stage().Min)
	p.command("point", map[string]any{"x": frame.Min.X + frame.Dx()/3, "y": frame.Min.Y + frame.Dy()/2})
	p.waitFor(`v.sample !== null && v.hue.degrees === 95`)
	p.run(`[...document.querySelectorAll("#panel-proof .computed button")].find(b => b.textContent.includes("hue of the point")).click()`)
	p.waitFor(`v.hue.read && Math.abs(v.hue.degrees - (Math.atan2(v.sample.reference[2], v.sample.reference[1]) * 180 / Math.PI + 360) % 360) < 1e-6`)
}

// TestSideBySide looks at both ways of printing, at both sides of the masks and at both
// rooms side by side, and
// holds each picture to the Go renderer; what the session prints stays as it is.
func TestSideBySide(t *testing.T) {
	p := demo(t)
	for _, c := range []struct{ look, left, right string }{{"straight, tuned", "straight", "tuned"}, {"unmasked, masked", "unmasked", "masked"}, {"bench and gallery", "bench", "gallery"}} {
		p.run(`(list => {
			list.value = [...list.options].find(o => o.textContent === ` + quoted(c.look) + `).value;
			list.dispatchEvent(new Event("change", { bubbles: true }));
		})(document.querySelector("#look select[aria-label='Look at']"))`)
		p.waitFor(fmt.Sprintf(`v.frames.map(f => f.id).join() === "%s,%s"`, c.left, c.right))
		shot := p.settled()
		left, right := p.frameRect(c.left), p.frameRect(c.right)
		n := 0
		for y := range left.Dy() {
			for x := range left.Dx() {
				if differs(rgba(shot, left.Min.X+x, left.Min.Y+y), rgba(shot, right.Min.X+x, right.Min.Y+y), 4) {
					n++
				}
			}
		}
		if share := float64(n) / float64(left.Dx()*left.Dy()); share < 0.1 {
			t.Errorf("%s: only %.1f %% of the two pictures differ", c.look, 100*share)
		}
		if got := p.compare(); got.Share2 < 0.99 || got.Worst > 6 || got.Pixels < 40_000 {
			t.Errorf("%s: shader against Go %+v", c.look, got)
		}
		if v := p.view(); v.Undo != "" {
			t.Errorf("%s: looking is a step to undo, %q", c.look, v.Undo)
		}
	}
	// A print that is held against another recipe: beside, and as their difference.
	p.command("hold", nil)
	p.command("palette", map[string]any{"id": "latechrome"})
	p.command("masked", map[string]any{"on": true})
	p.command("side", map[string]any{"which": "left", "id": "held-1"})
	for _, look := range []string{"beside", "difference"} {
		p.command("look", map[string]any{"id": look})
		p.compareAll("held, " + look)
	}
}
