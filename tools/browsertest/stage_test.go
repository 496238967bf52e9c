package browsertest

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The stage rests on internals of the game library that makes the canvas. These tests
// hold its geometry, its pointer and its keys, so that a new version cannot break them
// unseen.

// TestTable looks at the page in windows of many sizes: the canvas keeps to the stage, the
// pictures have their share of the window, words are few and large, nothing is cut off,
// and no state breaks a rule of accessibility. What is measured is printed.
func TestTable(t *testing.T) {
	p := open(t, windowWidth, windowHeight) // a page of its own, beside the tests that share one: it takes long
	p.waitRegistered()
	p.waitFor(`v.left.have`)
	p.command("look", map[string]any{"id": "beside"})
	p.rest()
	if style := eval[string](p, `[document.documentElement, document.body].map(e => e.getAttribute("style") ?? "").join("")`); style != "" {
		t.Errorf("the library's style stays on the page: %q", style)
	}
	p.leavePicturesAlone()
	const everything, nothing = "html", ""
	axe, err := os.ReadFile("../../.build/axe/node_modules/axe-core/axe.min.js")
	if err == nil {
		p.run(string(axe))
	} else {
		t.Log("SKIPPED: axe-core is not in .build (sh tools/browsertest/axe.sh brings it)")
	}
	for _, c := range []struct {
		w, h  int64
		share float64 // of the window that is picture, at the least
		judge string  // what the rules of accessibility are held against, see measureTable
	}{{1920, 1080, 0.56, everything}, {1400, 860, 0.52, everything}, {1024, 700, 0.35, everything}, {390, 800, 0.25, everything}, {960, 540, 0.35, nothing}, {700, 430, 0.25, everything}} {
		p.resize(c.w, c.h)
		p.waitFor(`(() => {
			const canvas = document.querySelector("#stage canvas");
			const c = canvas.getBoundingClientRect(), s = document.getElementById("stage").getBoundingClientRect();
			return ["left", "top", "width", "height"].every(k => Math.abs(c[k] - s[k]) < 0.51) &&
				Math.abs(canvas.width - c.width * devicePixelRatio) <= 1 && Math.abs(canvas.height - c.height * devicePixelRatio) <= 1;
		})()`)
		p.waitFor(`v.stack === (innerWidth >= 1000)`) // it gives way to the pictures by itself
		p.rest()
		stage := p.stage()
		for _, f := range p.view().Frames {
			if f.X < 0 || f.Y < 0 || f.X+f.W > float64(stage.Dx()) || f.Y+f.H > float64(stage.Dy()) {
				t.Errorf("at %d × %d the frame %v leaves the stage of %v", c.w, c.h, f, stage.Size())
			}
		}
		is := p.measureTable(t, fmt.Sprintf("%d × %d", c.w, c.h), c.judge)
		if is.Share < c.share {
			t.Errorf("at %d × %d %.1f %% of the window are picture, want %.0f %%", c.w, c.h, 100*is.Share, 100*c.share)
		}
		if c.w == 1024 || c.w <= 700 { // wider windows follow below
			p.onePicture(t)
		}
		if c.w == 390 { // the pulls lie behind one button
			p.click("#drawers")
			p.rest()
			p.measureTable(t, "the drawers' menu", "#head")
			p.click("#pull-points")
			p.waitFor(`v.station === "points" && !document.getElementById("pulls").checkVisibility()`)
			p.click("#drawer .shut")
			p.waitFor(`v.station === "" && document.activeElement.id === "drawers"`)
		}
		if c.w < 1000 { // a drawer that comes and goes leaves the captions whole
			for _, station := range []string{"proof", ""} {
				p.command("station", map[string]any{"id": station})
				p.rest()
			}
			for _, fault := range eval[[]string](p, captionFaults) {
				t.Errorf("at %d × %d, after a drawer: %s", c.w, c.h, fault)
			}
		}
		if c.w < 1000 { // where hardly anything is left of the table, it comes to rest all the same
			p.command("stack", map[string]any{"on": true})
			p.command("station", map[string]any{"id": "review"})
			p.rest()
			p.command("station", map[string]any{"id": ""})
			p.command("stack", map[string]any{"on": false})
		}
	}
	p.resize(windowWidth, windowHeight) // where the software that stands in for a graphics card is faster
	// what tests before unfolded: a table of figures has more words
	p.run(`for (const unfolded of document.querySelectorAll("details[open]")) unfolded.open = false`)
	const rail, drawer = "#head, #rail", "#drawer"
	for _, c := range []struct {
		what      string
		judge     string
		on, off   string
		fields    map[string]any
		notFields map[string]any
	}{
		{"the section", "#section", "cut", "cut", map[string]any{"on": true}, map[string]any{"on": false}},
		{"the room view", "body", "room", "room", map[string]any{"on": true}, map[string]any{"on": false}},
		{"difference", rail, "look", "look", map[string]any{"id": "difference"}, map[string]any{"id": "beside"}},
		{"all palettes", "#board", "look", "look", map[string]any{"id": "board"}, map[string]any{"id": "beside"}},
		{"Plates", drawer, "station", "station", map[string]any{"id": "plates"}, map[string]any{"id": ""}},
		{"Register", drawer, "station", "station", map[string]any{"id": "register"}, map[string]any{"id": ""}},
		{"Tissues", drawer, "station", "station", map[string]any{"id": "tissues"}, map[string]any{"id": ""}},
		{"Proof", drawer, "station", "station", map[string]any{"id": "proof"}, map[string]any{"id": ""}},
		{"Review", drawer, "station", "station", map[string]any{"id": "review"}, map[string]any{"id": ""}},
		{"Sheets", drawer, "station", "station", map[string]any{"id": "sheets"}, map[string]any{"id": ""}},
		{"Points", drawer, "station", "station", map[string]any{"id": "points"}, map[string]any{"id": ""}},
	} {
		p.command(c.on, c.fields)
		p.rest()
		p.measureTable(t, c.what, c.judge)
		p.command(c.off, c.notFields)
	}
	for _, c := range []struct {
		w, h    int64
		drawers []string // of the larger window those with most words
	}{{1920, 1080, []string{"register", "tissues", "sheets"}}, {1400, 860, []string{"plates", "register", "tissues", "proof", "review", "sheets", "points"}}} {
		p.resize(c.w, c.h)
		at := fmt.Sprintf(" at %d × %d", c.w, c.h)
		p.onePicture(t)
		p.command("room", map[string]any{"on": true})
		p.rest()
		if short := eval[int](p, `document.querySelectorAll("#captions [data-short]").length`); short > 0 {
			t.Errorf("the room view%s says less of %d rows of pictures than there is to say", at, short)
		}
		p.command("room", map[string]any{"on": false})
		p.command("look", map[string]any{"id": "board"})
		p.waitFor(`v.board.cards.every(c => c.printed)`)
		p.rest()
		p.measureTable(t, "all palettes"+at, nothing)
		if cut := eval[[]string](p, `(() => {
			const board = document.querySelector(".prints").getBoundingClientRect();
			return [...document.querySelectorAll(".small-print")].filter((card) => {
				const box = card.getBoundingClientRect();
				return box.top < board.top || box.bottom > board.bottom + 0.5 || box.left < board.left || box.right > board.right || card.scrollWidth > card.clientWidth;
			}).map((card) => card.textContent.slice(0, 30));
		})()`); len(cut) > 0 {
			t.Errorf("%s: not whole on the board: %q", at, cut)
		}
		if moved := eval[[]string](p, `(() => {
			const cards = [...document.querySelectorAll(".small-print")], list = cards[0].querySelector("details");
			const at = () => cards.map((card) => ["left", "top", "width", "height"].map((k) => Math.round(card.getBoundingClientRect()[k])).join());
			const before = at();
			list.open = true;
			list.querySelector("summary").focus();
			return at().filter((now, i) => now !== before[i]);
		})()`); len(moved) > 0 {
			t.Errorf("%s: the figures of one palette move cards to %q", at, moved)
		}
		p.press(kb.Escape)
		p.waitFor(`!document.querySelector(".small-print details[open]")`)
		p.wholeFigures(t, at)
		p.command("look", map[string]any{"id": "beside"})
		for _, station := range c.drawers { // as they are opened
			p.command("station", map[string]any{"id": station})
			p.waitFor(`!document.querySelector('#panel-` + station + ` [aria-busy="true"]')`) // of the others, the busiest stays as it was left
			p.rest()
			p.measureTable(t, station+at, nothing)
		}
		p.command("station", map[string]any{"id": ""})
	}
	p.resize(windowWidth, windowHeight)
	p.german(t)
	press := func(label string) {
		p.run(`[...document.querySelectorAll("dialog[open] button, .visit button")].find(b => b.textContent === ` + quoted(label) + `).click()`)
		p.rest()
	}
	p.click(`#aids button[aria-label="Keys and words"]`)
	p.rest()
	p.measureTable(t, "the keys", "dialog[open]")
	press("Words")
	p.run(`document.querySelector("#words details").open = true`)
	p.measureTable(t, "the words", "dialog[open]")
	press("Close")

	// The steps of the first visit change nothing but how things are looked at, and bring that back.
	before := p.view()
	p.click(`#aids button[aria-label="Keys and words"]`)
	press("First steps")
	for step := 1; step < 5; step++ {
		p.measureTable(t, fmt.Sprintf("step %d of the first visit", step), ".visit")
		press("Next")
	}
	if v := p.view(); v.Station != "sheets" {
		t.Errorf("the last step shows the drawer %q", v.Station)
	}
	press("Done")
	if v := p.view(); v.Look != before.Look || v.Station != before.Station || v.Undo != before.Undo {
		t.Errorf("after the steps the look is %q, the drawer %q, to undo %q", v.Look, v.Station, v.Undo)
	}
}

// wholeFigures has the figures of each palette on the board stand whole where they open, and
// cover no palette's name.
func (p *page) wholeFigures(t *testing.T, at string) {
	t.Helper()
	for _, fault := range eval[[]string](p, `(() => {
		const names = [...document.querySelectorAll(".small-print b")].map((name) => name.getBoundingClientRect());
		return [...document.querySelectorAll(".small-print details")].flatMap((list) => {
			list.open = true;
			const figures = list.querySelector(".all-figures"), box = figures.getBoundingClientRect();
			const of = list.parentElement.querySelector("b").textContent, out = [];
			if (figures.scrollHeight > figures.clientHeight) out.push(of + ": " + figures.scrollHeight + " px of figures in " + figures.clientHeight);
			if (names.some((name) => name.left < box.right && box.left < name.right && name.top < box.bottom - 0.5 && box.top < name.bottom)) out.push(of + ": they lie over a name");
			list.open = false;
			return out;
		});
	})()`) {
		t.Errorf("the board%s: %s", at, fault)
	}
}

// table is what TestTable measures of one state of the page.
type table struct {
	Share      float64  `json:"share"` // of the window that is picture
	Words      int      `json:"words"` // in sight
	Text       []string `json:"text"`  // that they stand in
	Least      float64  `json:"least"` // smallest letters, CSS pixels
	Small      string   `json:"small"` // a text of that size
	Head       float64  `json:"head"`  // height of the head
	Rail       float64  `json:"rail"`  // height of the rail
	Wide       int      `json:"wide"`  // width of the window
	Scrolls    bool     `json:"scrolls"`
	Cut        []string `json:"cut"`        // controls of head and rail that lie beyond the window
	Narrow     []string `json:"narrow"`     // controls that a finger misses
	Violations []string `json:"violations"` // of axe-core's rules
}

// onePicture holds that a picture alone is no smaller than one of two, and that captions take two
// lines at the most, here.
func (p *page) onePicture(t *testing.T) {
	t.Helper()
	for _, look := range []string{"difference", "losses", "beside"} {
		p.command("look", map[string]any{"id": look})
		p.rest()
		if look == "difference" {
			p.run(`window.alone = JSON.parse(threeply.view()).frames[0].w`)
		}
		if lines := eval[float64](p, `Math.max(...[...document.querySelectorAll("#captions .row")].map(row => row.offsetHeight))`); lines > 52 {
			t.Errorf("%d px wide, %s: the captions are %.0f px high, more than two lines", eval[int](p, `innerWidth`), look, lines)
		}
	}
	if alone, ofTwo := eval[float64](p, `alone`), p.view().Frames[0].W; alone < ofTwo {
		t.Errorf("%d px wide: one picture alone is %.0f px wide, one of two %.0f", eval[int](p, `innerWidth`), alone, ofTwo)
	}
}

// measureTable measures, prints and holds to what the page promises everywhere: letters of
// 14 px at the least, 120 words, a head of 48 px and one row of controls (two on a phone) at the most, no control of head and rail
// beyond the window, no control in sight that is less than
// 24 px wide or high (Web Content Accessibility Guidelines 2.2, 2.5.8, without its exceptions), and
// no violation in what of the page the selectors of judge find; "" judges nothing. (What axe-core loads
// beforehand is for rules on media and on turning the screen, of which the page has nothing.)
func (p *page) measureTable(t *testing.T, what, judge string) table {
	t.Helper()
	rules := `[]`
	if judge != "" {
		rules = `(window.axe ? (await axe.run(` + quoted(judge) + `, {resultTypes: ["violations"], preload: false})).violations : []).map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ")).slice(0, 4).join(", "))`
	}
	is := eval[table](p, `(async () => {
		const inSight = (box) => box.width > 1 && box.height > 1 && box.bottom > 0 && box.right > 0 && box.top < innerHeight && box.left < innerWidth;
		let words = 0, least = 99, small = "";
		const read = [];
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		for (let text = walk.nextNode(); text; text = walk.nextNode()) {
			const parent = text.parentElement;
			if (text.textContent.trim() === "" || parent.closest("script, noscript, select, .unseen, .skip") || !parent.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true })) continue;
			const range = document.createRange();
			range.selectNodeContents(text);
			if (!inSight(range.getBoundingClientRect())) continue;
			read.push(text.textContent.trim());
			words += text.textContent.split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length; // signs are no words
			const svg = parent.closest("svg[viewBox]");
			const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
			const size = parseFloat(getComputedStyle(parent).fontSize) * scale;
			if (size < least) [least, small] = [size, text.textContent.trim().slice(0, 40)];
		}
		for (const list of document.querySelectorAll("select")) {
			if (list.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) && inSight(list.getBoundingClientRect())) words += (list.selectedOptions[0]?.textContent ?? "").split(/\s+/).length;
		}
		const view = JSON.parse(threeply.view());
		const share = view.look === "board" ? 0 : view.frames.reduce((sum, f) => sum + f.w * f.h, 0) / (innerWidth * innerHeight);
		return { share, words, text: read, least, small, head: document.getElementById("head").getBoundingClientRect().height,
			rail: document.getElementById("rail").getBoundingClientRect().height, wide: innerWidth,
			scrolls: document.documentElement.scrollWidth > innerWidth || document.documentElement.scrollHeight > innerHeight,
			cut: [...document.querySelectorAll("#head :is(button, input), #rail :is(button, select, label)")].filter((control) => {
				const box = control.getBoundingClientRect();
				const end = control.closest("#pulls") && innerWidth > 640 ? document.getElementById("aids").getBoundingClientRect().left + 0.5 : innerWidth;
				return control.checkVisibility({ checkVisibilityCSS: true }) && (box.left < 0 || box.right > end || box.bottom > innerHeight);
			}).map((control) => control.getAttribute("aria-label") || control.textContent.slice(0, 20) || control.id),
			narrow: [...document.querySelectorAll("button, select, input, textarea, summary, a[href], [role=button], [role=slider]")].flatMap((control) => {
				if (control.closest(".unseen, .skip") || control.type === "file" || !control.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true })) return [];
				const box = (control.matches("[type=checkbox], [type=radio]") && control.closest("label") || control).getBoundingClientRect();
				if (!inSight(box) || Math.min(box.width, box.height) > 23.5) return [];
				return [Math.round(box.width) + " × " + Math.round(box.height) + " px: " + (control.getAttribute("aria-label") || control.textContent.trim().slice(0, 30) || control.id || control.outerHTML.slice(0, 60))];
			}),
			violations: `+rules+` };
	})()`)
	t.Logf("%-16s %4.1f %% picture, %3d words in sight, letters of %.1f px and more", what, 100*is.Share, is.Words, is.Least)
	if is.Least < 13.9 {
		t.Errorf("%s: letters of %.1f px: “%s”", what, is.Least, is.Small)
	}
	if is.Words > 120 {
		t.Errorf("%s: %d words in sight: %q", what, is.Words, is.Text)
	}
	if rows := is.Rail / 46; rows > 1.1 && is.Wide >= 700 || rows > 2.1 {
		t.Errorf("%s: the rail is %.0f px high", what, is.Rail)
	}
	if is.Head > 48 || is.Scrolls {
		t.Errorf("%s: the head is %.0f px high; the page scrolls as a whole: %v", what, is.Head, is.Scrolls)
	}
	if len(is.Cut) > 0 {
		t.Errorf("%s: beyond the window lie %q", what, is.Cut)
	}
	if len(is.Narrow) > 0 {
		t.Errorf("%s: a finger misses %q", what, is.Narrow)
	}
	for _, v := range is.Violations {
		t.Errorf("%s: %s", what, v)
	}
	return is
}

// TestStagePointer reads the picture under the pointer at two places of each frame:
// their distance in the scan is their distance on the screen over the zoom, and the
// same place of both frames is the same place of the scan.
func TestStagePointer(t *testing.T) {
	p := demo(t)
	// In a window this wide the words of what is read fit into one line, so that the
	// pictures stay where they are.
	p.resize(1500, 860)
	t.Cleanup(func() { p.resize(windowWidth, windowHeight) })
	p.rest()
	type spot struct{ X, Y float64 }
	read := func(x, y float64) spot {
		t.Helper()
		p.run(`window.pointed = JSON.parse(threeply.view()).sample`)
		p.point(x, y)
		p.clickAt(x, y)
		p.waitFor(`v.sample && JSON.stringify(v.sample) !== JSON.stringify(window.pointed)`)
		p.rest()
		return eval[spot](p, `(({x, y}) => ({X: x, Y: y}))(JSON.parse(threeply.view()).sample)`)
	}
	frame := p.frameRect("print") // what is read takes room on the page once something is
	read(float64(frame.Min.X+5), float64(frame.Min.Y+5))
	zoom := p.view().Zoom
	var near []spot
	for _, id := range []string{"reference", "print"} {
		frame := p.frameRect(id)
		x, y := float64(frame.Min.X+frame.Dx()/4), float64(frame.Min.Y+frame.Dy()/4)
		const right, down = 120, 70
		a, b := read(x, y), read(x+right, y+down)
		if math.Abs(b.X-a.X-right/zoom) > 1.1 || math.Abs(b.Y-a.Y-down/zoom) > 1.1 {
			t.Errorf("%s: %d, %d px on the screen are %.1f, %.1f px of the scan, want %.1f, %.1f",
				id, right, down, b.X-a.X, b.Y-a.Y, right/zoom, down/zoom)
		}
		near = append(near, a)
	}
	if math.Abs(near[0].X-near[1].X) > 1/zoom+0.1 || math.Abs(near[0].Y-near[1].Y) > 1/zoom+0.1 {
		t.Errorf("the same place of both frames reads %v and %v", near[0], near[1])
	}
}

// TestStageKeys walks through the page by Tab: the canvas comes once, in the order of
// the document, and lets go. Keys that belong to the browser are not swallowed there.
func TestStageKeys(t *testing.T) {
	p := demo(t)
	p.run(`(() => {
		window.keysSeen = [];
		// setTimeout: by then every listener has had its say.
		addEventListener("keydown", (e) => setTimeout(() => keysSeen.push({key: e.key, prevented: e.defaultPrevented})), true);
		document.activeElement.blur();
	})()`)
	var walk []string
	const most = 80
	for range most {
		p.press(kb.Tab)
		here := eval[string](p, `(() => {
			const e = document.activeElement;
			if (e === document.body) return "body";
			if (e.dataset.walked) return "again";
			e.dataset.walked = "yes";
			return e.tagName + (e.id ? "#" + e.id : "");
		})()`)
		if here == "again" {
			break
		}
		if here == "body" { // the end of the page: it goes on at its beginning
			continue
		}
		walk = append(walk, here)
	}
	isCanvas := func(name string) bool { return name == "CANVAS" || len(name) > 7 && name[:7] == "CANVAS#" }
	if !slices.ContainsFunc(walk, isCanvas) {
		t.Fatalf("Tab never comes to the canvas: %q", walk)
	}
	inOrder := eval[bool](p, `(() => {
		const walked = [...document.querySelectorAll("[data-walked]")];
		const canvas = document.querySelector("#stage canvas");
		return canvas.tabIndex === 0 && walked.every(e => e.tabIndex <= 0);
	})()`)
	if !inOrder {
		t.Error("some element asks for a place of its own in the Tab order")
	}
	if name := eval[string](p, `document.querySelector("#stage canvas").getAttribute("aria-label") ?? ""`); name == "" {
		t.Error("the canvas has no label")
	}

	p.focusCanvas()
	p.run(`keysSeen.length = 0`)
	p.press(kb.F5)
	p.press("l", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.press(kb.Tab)
	p.waitFor(`keysSeen.filter(k => ["F5", "l", "Tab"].includes(k.key)).length >= 3`)
	if kept := eval[[]string](p, `keysSeen.filter(k => k.prevented).map(k => k.key)`); len(kept) != 0 {
		t.Errorf("the canvas swallows %q", kept)
	}
	if eval[bool](p, `document.activeElement === document.querySelector("#stage canvas")`) {
		t.Error("Tab does not leave the canvas")
	}
}

// TestKeysAfterAClick presses keys where a user has them: after a click and a drag on
// the picture, which select none of the words beside.
func TestKeysAfterAClick(t *testing.T) {
	p := demo(t)
	p.run(`getSelection().removeAllRanges()`) // of whatever a test before has selected
	frame := p.frameRect("print")
	x, y := float64(frame.Min.X+frame.Dx()/2), float64(frame.Min.Y+frame.Dy()/2)
	p.clickAt(x, y)
	p.press("l")
	p.waitFor(`v.loupe.on`)
	p.drag(x, y, x+30, float64(frame.Max.Y)+160)
	p.press("l")
	p.waitFor(`!v.loupe.on`)
	if words := eval[string](p, `getSelection().toString()`); words != "" {
		t.Errorf("a drag on the picture selects %q", words)
	}

	// Every key that the page lists does what it says, from there on.
	press := func(key, want string, held ...chromedp.KeyOption) {
		t.Helper()
		p.press(key, held...)
		p.waitFor(want)
	}
	ctrl, shift := chromedp.KeyModifiers(chromedp.ModifierCtrl), chromedp.KeyModifiers(chromedp.ModifierCtrl, chromedp.ModifierShift)
	now := func(of string) float64 { return eval[float64](p, `JSON.parse(threeply.view()).`+of) }
	zoom := now("zoom")
	press("+", fmt.Sprintf(`v.zoom > %g`, 1.2*zoom))
	press("-", fmt.Sprintf(`v.zoom < %g`, 1.2*zoom))
	press("1", `v.zoom === 1`)
	press("0", fmt.Sprintf(`Math.abs(v.zoom - %g) < 1e-6`, zoom))
	points := now("points.length")
	press(kb.Enter, fmt.Sprintf(`v.points.length === %g`, points+1))
	press("z", fmt.Sprintf(`v.points.length === %g`, points), ctrl)
	press("z", fmt.Sprintf(`v.points.length === %g`, points+1), shift)
	press("z", fmt.Sprintf(`v.points.length === %g`, points), ctrl)
	press("r", `v.room`)
	press("r", `!v.room`)
	p.press("?")
	p.waitFor(`document.querySelector("dialog[open]") !== null`)
	p.press(kb.Escape)
	p.waitFor(`document.querySelector("dialog[open]") === null`)
	p.focusCanvas()
	p.command("look", map[string]any{"id": "divided"})
	p.rest()
	divider := now("divider.x")
	press(".", fmt.Sprintf(`v.divider.x > %g`, divider+1))
	press(",", fmt.Sprintf(`Math.abs(v.divider.x - %g) < 1`, divider))
	p.command("look", map[string]any{"id": "blink"})
	p.rest() // the stage sees the look
	press(" ", `v.paused`)
	press(" ", `!v.paused`)
	p.run(`document.activeElement.blur()`)
	press(" ", `v.paused`)
	p.run(`document.querySelector("#rail input[type=radio]:checked").focus()`)
	press(" ", `!v.paused`)
	p.focusCanvas()
	p.command("station", map[string]any{"id": "points"})
	press(kb.Escape, `v.station === ""`)
	still := func(value string) {
		p.do("motion", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: value}}})
			return err
		}))
	}
	still("reduce") // nothing turns by itself, and space shows the other
	shown := eval[string](p, `JSON.parse(threeply.view()).frames[0].id`)
	press(" ", `v.frames[0].id !== `+quoted(shown))
	press(" ", `v.frames[0].id === `+quoted(shown))
	still("")
}
