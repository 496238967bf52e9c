package browsertest

import (
	"encoding/base64"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/session"
	worth "threeply/proof/words"
)

// asked counts the small prints that the page has its worker make.
const asked = `(() => {
	window.boardAsked = [];
	const post = Worker.prototype.postMessage;
	Worker.prototype.postMessage = function (message, ...rest) {
		if (message.op === "board") boardAsked.push(message.palette);
		return post.call(this, message, ...rest);
	};
})()`

// filled holds where no small print is missing.
const filled = `document.querySelectorAll(".small-print").length > 0 && !document.querySelector(".small-print[aria-busy]")`

// reduced is the open picture here, as the page hands it to its worker where the
// borders are shown.
func (p *page) reduced() (session.State, picture.Reduced) {
	p.t.Helper()
	s, set := p.nativeSet()
	var levels [3][]*plane.Plane
	for i, full := range set.Density {
		levels[i] = full.Pyramid(picture.ThumbSide)
	}
	level := max(min(len(levels[0]), len(levels[1]), len(levels[2]))-2, 0)
	w, h := s.Frame()
	r := picture.Reduced{Level: level, Frame: [4]float64{-0.5, -0.5, float64(w) - 0.5, float64(h) - 0.5}}
	for i := range levels {
		r.Planes[i] = levels[i][level]
	}
	return s, r
}

// names are the palettes on the board, as they stand.
func (p *page) names() []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll(".small-print input")].map(e => e.value)`)
}

// TestBoard fills the board print by print, sorted anew amid that, holds every third to what this
// machine computes, sorts it, and works on it.
func TestBoard(t *testing.T) {
	p := open(t, windowWidth, windowHeight) // a page of its own: that of the other tests is asked for all the time
	p.waitRegistered()
	p.waitFor(`v.left.have`)
	p.command("look", map[string]any{"id": "beside"})
	p.run(asked)
	p.command("paper", map[string]any{"id": "rag"}) // no other test has printed small on it
	p.command("whole", map[string]any{"hidden": false})
	p.run(`(() => {
		window.boardCounts = [];
		new MutationObserver(() => {
			const n = document.querySelectorAll(".small-print").length - document.querySelectorAll(".small-print[aria-busy]").length;
			if (boardCounts.at(-1) !== n) boardCounts.push(n);
		}).observe(document.getElementById("board"), {subtree: true, childList: true, attributes: true, attributeFilter: ["aria-busy"]});
	})()`)
	since := p.now()
	p.command("look", map[string]any{"id": "board"})
	p.waitFor(`document.querySelectorAll(".small-print").length > 0`)
	p.command("sort", map[string]any{"id": "mean"}) // before all are there
	p.waitFor(filled)
	longest := p.longest(since)
	t.Logf("filled after %.0f ms, longest task %.0f ms (to reach: 200 ms)", p.now()-since, longest.Duration)
	p.command("sort", map[string]any{"id": "kind"})
	p.waitFor(`v.board.by === "kind"`)
	p.rest()
	s, r := p.reduced()
	all := s.Palettes()
	if counts := eval[[]int](p, `boardCounts`); len(counts) < len(all) {
		t.Errorf("%d prints came in the steps %v, not one by one", len(all), counts)
	}

	tried := map[string]picture.Tried{}
	for i, palette := range all {
		if i%3 != 0 { // every third is enough: the others come in the same way
			continue
		}
		figures, img, err := picture.Try(&s, palette.ID, r, 320)
		if err != nil {
			t.Fatal(err)
		}
		tried[palette.ID] = figures
		said := eval[string](p, fmt.Sprintf(`document.querySelectorAll(".small-print")[%d].textContent.replaceAll("\u00a0", " ")`, i))
		minus := strings.NewReplacer("-0.0", "0.0", "-", "−")
		for _, want := range []string{
			palette.Name, palette.Era,
			fmt.Sprintf("%s, L* %.1f, density %.2f", worth.Black(figures.Lab[0]), figures.Lab[0], figures.Density),
			fmt.Sprintf("ΔE00 %.1f", figures.DriftA), fmt.Sprintf("ΔE00 %.1f", figures.DriftLED),
			fmt.Sprintf("%.0f thousand", figures.Volume/1000), fmt.Sprintf("%.1f %%", 100*figures.Beyond),
			fmt.Sprintf("mean %.1f, it may be %.1f to %.1f; 95 %%: %.1f", figures.Mean, figures.Least, figures.Most, figures.P95),
		} {
			if !strings.Contains(said, minus.Replace(want)) {
				t.Errorf("%s: no “%s” in “%s”", palette.ID, want, said)
			}
		}
		shown, err := base64.StdEncoding.DecodeString(eval[string](p, fmt.Sprintf(`(() => {
			const c = document.querySelectorAll(".small-print canvas")[%d];
			const px = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
			let text = "";
			for (let i = 0; i < px.length; i += 4096) text += String.fromCharCode(...px.subarray(i, i + 4096));
			return btoa(text);
		})()`, i)))
		if err != nil {
			t.Fatal(err)
		}
		if len(shown) != len(img.Pix) {
			t.Fatalf("%s: a print of %d bytes, want %d", palette.ID, len(shown), len(img.Pix))
		}
		worst := 0
		for j, v := range shown {
			worst = max(worst, int(v)-int(img.Pix[j]), int(img.Pix[j])-int(v))
		}
		if worst > 1 {
			t.Errorf("%s: the small print is up to %d of 255 off", palette.ID, worst)
		}
	}
	checkSorting(t, p, tried)
	checkLive(t, p)
}

// checkSorting sorts the board by its controls' commands; package model does so by every order.
func checkSorting(t *testing.T, p *page, tried map[string]picture.Tried) {
	t.Helper()
	listed := p.names()
	for _, falling := range []bool{false, true} {
		p.command("sort", map[string]any{"id": "mean", "on": falling})
		p.waitFor(`document.querySelector("#board select").value === "mean" && v.board.falling === ` + fmt.Sprint(falling))
		p.rest()
		last := math.Inf(-1)
		for _, id := range p.names() {
			figures, computed := tried[id]
			if !computed {
				continue
			}
			mean := figures.Mean
			if falling {
				mean = -mean
			}
			if mean < last-1e-6 {
				t.Errorf("by mean ΔE00, falling %v: %s stands too late", falling, id)
			}
			last = mean
		}
	}
	p.command("sort", map[string]any{"id": "kind"})
	p.waitFor(`v.board.by === "kind" && !v.board.falling`)
	p.rest()
	if names := p.names(); !slices.Equal(names, listed) {
		t.Errorf("as listed: %v, want %v", names, listed)
	}
}

// checkLive chooses from the board by pointer and by key, makes a palette of one's own, and
// asks for no print again that has not changed; away from the board nothing is printed.
func checkLive(t *testing.T, p *page) {
	t.Helper()
	count := func() int { return eval[int](p, `boardAsked.length`) }
	names := p.names()
	if got := count(); got != len(names) {
		t.Errorf("%d prints were made for %d palettes", got, len(names))
	}

	p.click(`.small-print:nth-of-type(3) label`)
	p.waitFor(`v.palettes.find(q => q.chosen).id === ` + quoted(names[2]))
	p.waitFor(`document.querySelector(".small-print[data-chosen] .mark").checkVisibility() && document.querySelectorAll(".small-print .mark:not([hidden])").length === 1`)
	p.press(kb.ArrowDown)
	p.waitFor(`v.palettes.find(q => q.chosen).id === ` + quoted(names[3]))
	if got := count(); got != len(names) {
		t.Errorf("choosing made prints anew: %d for %d palettes", got, len(names))
	}

	// An edit of a built-in palette begins an own one: one more print, and one again
	// with every further edit.
	tissue := map[string]any{"pigments": []map[string]any{{"ci": "PY74", "share": 1}}, "load": 1.4, "haze": 1.0, "coatMicron": 24.0}
	p.command("tissue", map[string]any{"printer": "yellow", "tissue": tissue})
	p.waitFor(fmt.Sprintf(`document.querySelectorAll(".small-print").length === %d && `, len(names)+1) + filled)
	p.waitFor(`document.querySelector(".small-print[data-chosen] .era").textContent.endsWith("own")`)
	tissue["load"] = 0.7
	p.command("tissue", map[string]any{"printer": "yellow", "tissue": tissue})
	p.waitFor(fmt.Sprintf(`boardAsked.length === %d && `, len(names)+2) + filled)
	p.click("#undo")
	p.rest()
	if got := count(); got != len(names)+2 {
		t.Errorf("an undone edit was printed again: %d prints", got)
	}

	// Another paper changes all; leaving the look stops the rest.
	p.command("paper", map[string]any{"id": "cream"})
	p.command("look", map[string]any{"id": "beside"})
	p.rest()
	left := count()
	if left > len(names)+4 {
		t.Errorf("away from the board %d prints were made", left-len(names)-2)
	}
	p.command("look", map[string]any{"id": "board"})
	p.rest() // the board shows what is to be printed by now
	p.waitFor(filled)
	if got := count(); got < 2*len(names)+3 {
		t.Errorf("on another paper %d prints were made of %d palettes", got-len(names)-2, len(names)+1)
	}
}
