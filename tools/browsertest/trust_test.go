package browsertest

import (
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

// TestEstimateIsNeverCut looks at every pane that shows a print, on a page of small width,
// and at looks of one, two and three panes on one of middling width: each says whole that it
// is an estimate, others do not.
func TestEstimateIsNeverCut(t *testing.T) {
	p := demo(t)
	for _, size := range [][2]int64{{1024, 700}, {windowWidth, windowHeight}} {
		p.resize(size[0], size[1])
		p.command("palette", map[string]any{"id": "latechrome"})
		p.command("dim", map[string]any{"on": true})
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
			"layer":      {"layer": true},
			"plate":      {"plate": false},
		} {
			if size[0] > windowWidth && look != "outside" && look != "beside" && look != "faded" {
				continue
			}
			p.command("look", map[string]any{"id": look})
			p.waitFor(`v.look === ` + quoted(look) + ` && [...document.querySelectorAll("#captions .what")].map(e => e.textContent).join() === v.frames.map(f => f.label).join()`)
			got := eval[map[string]bool](p, `(() => {
				const at = (i) => document.querySelectorAll("#captions .caption")[i];
				const top = document.getElementById("captions").getBoundingClientRect().top;
				return Object.fromEntries(JSON.parse(threeply.view()).frames.map((frame, i) => {
					const word = at(i).querySelector(".estimate");
					const [box, all] = [word.getBoundingClientRect(), at(i).getBoundingClientRect()];
					return [frame.id, !word.hidden && word.textContent === "estimate" && box.width > 30 && word.scrollWidth <= word.clientWidth + 1 && box.right <= all.right + 0.5 && all.top > top - 1];
				}));
			})()`)
			for id, says := range want {
				if got[id] != says {
					t.Errorf("%d px, %s, %s: says whole that it is an estimate %v, want %v", size[0], look, id, got[id], says)
				}
			}
			if len(got) != len(want) {
				t.Errorf("%s: panes %v, want %v", look, got, want)
			}
		}
		p.command("look", map[string]any{"id": "board"})
		p.waitFor(`document.querySelector("#board > header").textContent.includes("all estimates")`)
	}
}
