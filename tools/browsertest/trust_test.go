package browsertest

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"threeply/proof/spread"
)

// TestDoubtsAtOnce types three doubts within one frame: all three are kept.
func TestDoubtsAtOnce(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "proof"})
	p.run(`[...document.querySelectorAll("#panel-proof .spreads .more input[type=number]")].slice(0, 3).forEach((input, i) => {
		input.value = String([3, 2.5, 4][i]);
		input.dispatchEvent(new Event("input", { bubbles: true }));
		input.dispatchEvent(new Event("change", { bubbles: true }));
	})`)
	if u := p.session().Unknowns; u == nil || u.Scatter != 3 || u.Surface != 2.5 || u.Paper != 0.04 || u.Amount != spread.Usual.Amount {
		t.Errorf("typed 3, 2.5 and 4 %%: %+v", u)
	}
}

// TestSortAtOnce changes what the board is sorted by and its direction within one
// frame: both hold.
func TestSortAtOnce(t *testing.T) {
	p := demo(t)
	p.command("look", map[string]any{"id": "board"})
	p.waitFor(`document.querySelector("#board header input[value=falling]")`)
	p.run(`(() => {
		const by = document.querySelector("#board select");
		by.value = "L";
		by.dispatchEvent(new Event("change", { bubbles: true }));
		const falling = document.querySelector("#board header input[value=falling]");
		falling.checked = true;
		falling.dispatchEvent(new Event("change", { bubbles: true }));
	})()`)
	p.waitFor(`v.board.by === "L" && v.board.falling`)
}

// TestRefusedPaperIsNotTaken enters a lightness that no paper has and asks for that
// colour: nothing is made of it until the field holds another.
func TestRefusedPaperIsNotTaken(t *testing.T) {
	p := atTissues(t)
	p.run(`document.querySelector("#panel-tissues .own-paper").open = true`)
	const first = "#panel-tissues .own-paper .lab input"
	p.fill(first, "5")
	for range 2 {
		p.pushButton("#panel-tissues .own-paper", "Use this colour")
		if s := p.session(); len(s.OwnPapers) != 0 || s.Paper != "sized" {
			t.Fatalf("a refused lightness makes the paper %q, %d own", s.Paper, len(s.OwnPapers))
		}
	}
	if shown := eval[string](p, `document.querySelector(`+quoted(first)+`).value`); shown != "5" {
		t.Errorf("the field shows %q, the number that is refused is 5", shown)
	}
	if says := eval[string](p, `document.querySelector("#panel-tissues .own-paper .refused").textContent`); says == "" {
		t.Error("nothing says that it is refused")
	}
	p.fill(first, "88")
	p.pushButton("#panel-tissues .own-paper", "Use this colour")
	if s := p.session(); len(s.OwnPapers) != 1 || !s.Own(s.Paper) {
		t.Errorf("a lightness of 88 makes %d papers, chosen is %q", len(s.OwnPapers), s.Paper)
	}
}

// captionFaults are what is wrong with the captions of the pictures in sight: what of them is
// cut, or lies under a drawer or another one, titles of one row that begin at different heights,
// what takes more than two lines, and a key of colours that is cut.
const captionFaults = `(() => {
	const out = [], tops = {};
	const box = (node) => node.getBoundingClientRect();
	const table = box(document.getElementById("table")), drawer = document.getElementById("drawer");
	const right = drawer.checkVisibility() ? box(drawer).left : table.right;
	const frames = JSON.parse(threeply.view()).frames, all = [...document.querySelectorAll(".caption")];
	all.forEach((caption, i) => {
		const words = [caption, ...caption.querySelectorAll(".first, .what, .estimate, .legend, .heat, .note"), document.querySelector(".shared")].filter((node) => node.checkVisibility());
		for (const node of words) {
			const b = box(node);
			if (b.width === 0 && node.textContent === "") continue;
			if (node.scrollWidth > node.clientWidth + 1 && getComputedStyle(node).display !== "inline" && !(node === caption && getComputedStyle(node).display === "grid") || node.matches(".note") && node.scrollHeight > node.clientHeight ||
				b.left < table.left - 0.5 || b.right > right + 0.5 || b.top < table.top - 0.5 || b.bottom > table.top + frames[i].y + 0.5 && !node.matches(".shared")) out.push(node.className + ": " + node.textContent);
		}
		(tops[frames[i].y] ??= []).push(box(caption.querySelector(".what")).top);
		const parts = (of) => [...of.querySelectorAll(".named-side, .estimate, .without, .legend, .heat, .note > *")].map(box);
		for (const other of all.slice(0, i)) {
			if (parts(caption).some((a) => parts(other).some((b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1))) out.push("over each other: " + caption.textContent);
		}
	});
	for (const key of document.querySelectorAll("#captions .key:not(:empty)")) {
		const b = box(key);
		if (key.checkVisibility() && (b.left < table.left - 0.5 || b.right > right + 0.5 || b.bottom > table.bottom + 0.5 || b.height > 26)) out.push("the key: " + key.innerText);
	}
	for (const row of document.querySelectorAll("#captions > .row")) if (row.offsetHeight > 52 && document.body.dataset.room === undefined) out.push(row.offsetHeight + " px, more than two lines: " + row.innerText);
	for (const row of Object.values(tops)) if (Math.max(...row) - Math.min(...row) > 0.5) out.push("titles at " + row);
	return out;
})()`

// TestCaptionsAreWhole looks at the captions of every look in small windows and beside a drawer,
// and of some in other windows: all that they say is in sight, and each that shows a print says
// that it is an estimate, others do not.
func TestCaptionsAreWhole(t *testing.T) {
	p := demo(t)
	t.Cleanup(func() { p.resize(windowWidth, windowHeight) })
	p.command("palette", map[string]any{"id": "latechrome"})
	p.command("dim", map[string]any{"on": true})
	few := []string{"beside", "divided", "losses", "faded"}
	for _, window := range []struct {
		w, h   int64
		drawer string
		looks  []string // nil for all
	}{
		{700, 430, "proof", nil}, {390, 800, "", few}, {700, 430, "", few}, {1024, 700, "proof", few},
		{windowWidth, windowHeight, "", []string{"outside", "beside", "faded"}},
	} {
		p.resize(window.w, window.h)
		p.command("station", map[string]any{"id": window.drawer})
		p.command("stack", map[string]any{"on": window.w >= 1000})
		for look, want := range map[string]map[string]bool{
			"beside":     {"reference": false, "print": true},
			"divided":    {"reference": false, "print": true},
			"difference": {"difference": true},
			"reach":      {"reach": true},
			"sure":       {"lighter": true, "print": true, "heavier": true},
			"faded":      {"print": true, "kept": true, "faded": true},
			"ways":       {"straight": true, "tuned": true},
			"dots":       {"continuous": true, "dots": true},
			"masks":      {"unmasked": true, "masked": true},
			"exposed":    {"under": true, "print": true, "over": true},
			"losses":     {"losses-cyan": true, "losses-magenta": true, "losses-yellow": true},
			"outside":    {"outside": true},
			"rooms":      {"bench": true, "gallery": true},
			"palettes":   {"print": true, "other": true},
			"layer":      {"layer": true},
			"plate":      {"plate": false},
			"marks":      {"plate-red": false, "plate-green": false, "plate-blue": false},
		} {
			if window.looks != nil && !slices.Contains(window.looks, look) {
				continue
			}
			p.command("look", map[string]any{"id": look})
			p.waitFor(`v.look === ` + quoted(look) + ` && [...document.querySelectorAll("#captions .what > :first-child")].map(e => e.textContent.replaceAll("\u00a0", " ")).join() === v.frames.map(f => f.label).join()`)
			p.rest()
			where := fmt.Sprintf("%d × %d, drawer “%s”, %s", window.w, window.h, window.drawer, look)
			for _, fault := range eval[[]string](p, captionFaults) {
				t.Errorf("%s: %s", where, fault)
			}
			got := eval[map[string]bool](p, `(() => {
				const words = [...document.querySelectorAll("#captions .caption .estimate")];
				const says = (word) => word !== null && word.checkVisibility() && word.textContent === "estimate" && word.getBoundingClientRect().width > 30;
				const all = says(document.querySelector("#captions .shared .estimate")); // once for a row of prints
				return Object.fromEntries(JSON.parse(threeply.view()).frames.map((frame, i) => [frame.id, all || says(words[i])]));
			})()`)
			if !maps.Equal(got, want) {
				t.Errorf("%s: says that it is an estimate %v, want %v", where, got, want)
			}
		}
	}
	p.command("station", map[string]any{"id": ""})
	p.resize(windowWidth, windowHeight)
	p.command("look", map[string]any{"id": "board"})
	p.waitFor(`document.querySelector("#board > header").textContent.includes("all estimates")`)
}
