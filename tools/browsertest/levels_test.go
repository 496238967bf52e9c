package browsertest

import (
	"math"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"threeply/proof/session"
)

// looked waits until what goes in has been looked at as it stands.
const looked = `!document.querySelector('#panel-plates [aria-busy="true"]') && v.idle`

// platesSay waits until the Plates station shows some words; pushAtPlates
// pushes its button of a name.
func (p *page) platesSay(words string) {
	p.t.Helper()
	p.waitFor(`document.getElementById("panel-plates").textContent.replaceAll("\u00a0", " ").includes(` + quoted(words) + `)`)
}

func (p *page) pushAtPlates(name string) {
	p.t.Helper()
	p.run(`[...document.querySelectorAll("#panel-plates button")].find((b) => (b.getAttribute("aria-label") ?? b.textContent) === ` + quoted(name) + `).click()`)
}

// TestGreysOfTheScene: the demonstration set opens with neutrals that print neutral, and
// says what that rests on; without its scale the page says what it does not know;
// greys that are clicked on the picture and a line drawn along the scale bring the answers
// back; each is one step of undo.
func TestGreysOfTheScene(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "plates"})
	p.waitFor(`v.restsOn.by === "scale" && ` + looked)
	p.platesSay("Yes, where greys were read")
	p.platesSay("Yes: by a curve")
	p.platesSay("found and taken by itself")
	p.rest()
	was := p.view().Frames[1]
	steps := eval[[][2]float64](p, `JSON.parse(threeply.view()).pointed[1].map((g) => [g.x, g.y])`)
	if len(steps) < 8 {
		t.Fatalf("the scale has %d steps", len(steps))
	}

	p.pushAtPlates("Take all away")
	p.waitFor(`v.restsOn.by === "light" && v.scaleFound >= 8 && ` + looked)
	p.platesSay("Not known: nothing in the scene is known to be grey.")
	p.platesSay("Not known: point at greys")
	p.pushAtPlates("Dismiss")
	p.waitFor(`v.scaleFound === 0`)
	p.command("undo", nil)
	p.waitFor(`v.scaleFound >= 8 && ` + looked)

	p.pushAtPlates("Point at greys")
	p.waitFor(`document.getElementById("stage").dataset.tool === "grey"`)
	stage := p.stage().Min
	now := func(step [2]float64) (x, y float64) { // in the window, wherever the picture lies now
		p.rest()
		is := p.view().Frames[1]
		return float64(stage.X) + is.X + (step[0]-was.X)*is.W/was.W, float64(stage.Y) + is.Y + (step[1]-was.Y)*is.H/was.H
	}
	for i, step := range [][2]float64{steps[1], steps[5], steps[len(steps)-3]} {
		p.clickAt(now(step))
		p.waitFor(map[int]string{0: `v.greyList.length === 1`, 1: `v.greyList.length === 2`, 2: `v.greyList.length === 3`}[i])
	}
	p.waitFor(`v.restsOn.by === "greys" && ` + looked)
	p.platesSay("Yes, where greys were read")
	shown := eval[[][2]float64](p, `JSON.parse(threeply.view()).pointed[0].map((g) => [g.x, g.y])`)
	if len(shown) != 3 {
		t.Errorf("beside, the greys lie at %v", shown)
	}
	p.pushAtPlates("Take grey 2 away")
	p.waitFor(`v.greyList.length === 2 && ` + looked)
	p.focusCanvas()
	p.press(kb.Enter) // by keys: what lies in the middle
	p.waitFor(`v.greyList.length === 3 && ` + looked)
	p.command("undo", nil)
	p.waitFor(`v.greyList.length === 2 && ` + looked)

	p.pushAtPlates("Draw along a scale")
	p.waitFor(`document.getElementById("stage").dataset.tool === "scale"`)
	x0, y0 := now(steps[0])
	x1, y1 := now(steps[len(steps)-1])
	p.drag(x0, y0, x1, y1)
	p.waitFor(`v.restsOn.by === "scale" && v.rule === null && ` + looked)
	s := p.session()
	if n := len(s.Neutral.Greys); n < 8 || s.Neutral.By != session.ByScale {
		t.Errorf("along the scale %d steps were read: %+v", n, s.Neutral)
	}
	p.command("undo", nil)
	if s := p.session(); len(s.Neutral.Greys) != 2 || s.Neutral.By != session.ByGreys {
		t.Errorf("a step back there are %+v", s.Neutral)
	}
}

// TestFilmsByHand: a white that was set by hand says so and keeps the greys to go back
// to; an assumption on the light is chosen.
func TestFilmsByHand(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "plates"})
	p.waitFor(looked)
	white := p.session().Sources[0].Film.White
	p.command("film", map[string]any{"source": 0, "white": white + 0.2})
	p.waitFor(`v.restsOn.by === "hand" && ` + looked)
	p.platesSay("By figures that you set.")
	if s := p.session(); math.Abs(s.Sources[0].Film.White-white-0.2) > 1e-9 || len(s.Neutral.Greys) == 0 {
		t.Errorf("the white is %g, the greys %v", s.Sources[0].Film.White, s.Neutral.Greys)
	}
	p.desk("assume", map[string]any{"light": "grey-world"})
	p.waitFor(`v.restsOn.light === "grey-world" && ` + looked)
	p.platesSay("grey world")
}
