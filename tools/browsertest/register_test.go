package browsertest

import (
	"math"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/place"
)

// registerView is what the page says of register, as far as these tests read it.
type registerView struct {
	Rows []struct {
		Filter string `json:"filter"`
		Way    string `json:"way"`
		Words  string `json:"words"`
		Pose   struct {
			DxPx     float64 `json:"dxPx"`
			DyPx     float64 `json:"dyPx"`
			TurnDeg  float64 `json:"turnDeg"`
			Mirrored bool    `json:"mirrored"`
		} `json:"pose"`
		Left struct {
			Known  bool    `json:"known"`
			Local  bool    `json:"local"`
			Median float64 `json:"median"`
		} `json:"left"`
		Offset struct {
			DxUm      float64 `json:"dxUm"`
			TurnDeg   float64 `json:"turnDeg"`
			AcrossPct float64 `json:"acrossPct"`
		} `json:"offset"`
		Against struct {
			DxUm    float64 `json:"dxUm"`
			WorstUm float64 `json:"worstUm"`
		} `json:"against"`
		Locked bool `json:"locked"`
	} `json:"rows"`
	Sentence string `json:"sentence"`
	Sign     string `json:"sign"`
	Stars    int    `json:"stars"`
	Proposal *struct {
		Key string `json:"key"`
		Why string `json:"why"`
	} `json:"proposal"`
}

func (p *page) register() registerView {
	p.t.Helper()
	return eval[registerView](p, `JSON.parse(threeply.view()).register`)
}

// station opens the Register column.
func (p *page) station() {
	p.t.Helper()
	p.command("station", map[string]any{"id": "register"})
	p.waitFor(`document.getElementById("panel-register").checkVisibility()`)
}

// enter types a number into the field of the column that is known by its label.
func (p *page) enter(label, number string) {
	p.t.Helper()
	p.run(`(() => {
		const input = document.querySelector("#panel-register input[aria-label=" + JSON.stringify(` + quoted(label) + `) + "]");
		for (let part = input.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
		input.focus();
		input.select();
	})()`)
	p.typed(number)
}

// pressButton presses a button of the column by its label or its words.
func (p *page) pressButton(name string) {
	p.t.Helper()
	p.run(`(() => {
		const named = (b) => (b.getAttribute("aria-label") ?? b.textContent) === ` + quoted(name) + `;
		const button = [...document.querySelectorAll("#panel-register button")].find(named);
		for (let part = button.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
		button.click();
	})()`)
}

// panelSays waits until the column shows some words.
func (p *page) panelSays(words string) {
	p.t.Helper()
	p.run(`for (const folded of document.querySelectorAll("#panel-register details.fold")) folded.open = true`)
	p.waitFor(`document.getElementById("panel-register").innerText.replaceAll("\u00a0", " ").includes(` + quoted(words) + `)`)
}

// TestPlaceByHand opens plates of which the red one lies 12 pixels to the right and 7 up,
// and places it by the fields and buttons of a person. Where it lies is read in the
// session and seen in the picture; measured from there it is found where it was drawn;
// and undo takes back one act at a time.
func TestPlaceByHand(t *testing.T) {
	p := scans(t)
	scene := discs(8)
	p.openSet("moved", [3]string{
		scanOf(t, "moved_red.png", 640, 480, func(x, y float64) float64 { return scene(x-12, y+7) }),
		scanOf(t, "moved_green.png", 640, 480, scene),
		scanOf(t, "moved_blue.png", 640, 480, func(x, y float64) float64 { return math.Pow(scene(x, y), 1.2) }),
	})
	p.station()
	const cx, cy = 639 / 2.0, 479 / 2.0 // the middle of the key
	lies := func(what string, dx, dy, near float64) affine.Matrix {
		t.Helper()
		s := p.session()
		m := place.Register(&s, s.Assign[0])
		if x, y := m.Apply(cx, cy); math.Hypot(x-cx-dx, y-cy-dy) > near {
			t.Errorf("%s: the red plate lies %.3f, %.3f px off, want %g, %g", what, x-cx, y-cy, dx, dy)
		}
		return m
	}
	acts := []affine.Matrix{lies("found", 12, -7, 0.05)}
	did := func(what string, dx, dy float64) affine.Matrix {
		t.Helper()
		acts = append(acts, lies(what, dx, dy, 1e-6))
		return acts[len(acts)-1]
	}

	p.command("plates", map[string]any{"first": 2, "second": 0})
	p.command("look", map[string]any{"id": "plate"})
	p.command("zoom", map[string]any{"percent": 100})
	before := p.picturesAlone()
	p.enter("The picture lies to the right by, red plate", "40")
	p.waitFor(`v.register.rows[0].way === "hand" && v.register.rows[0].pose.dxPx === 40`)
	_, y := acts[0].Apply(cx, cy)
	placed := did("40 px to the right", 40, y-cy)
	if want := affine.Translate(40-12, 0).Mul(acts[0]); !alike(placed, want, 0.05) {
		t.Errorf("placed 28 px farther right the red plate lies by %.4f, want %.4f", placed, want)
	}
	// What lay at x of the screen lies 28 pixels farther left: the plate is read farther right.
	part := p.frameRect("plate").Inset(30)
	if after := p.picturesAlone(); colours(after, part) < 60 || changed(after, shifted(before, -28, 0), part, 3) > 0.02 {
		t.Errorf("%d colours; placed 28 px farther right %.1f %% of the picture lie elsewhere", colours(after, part), 100*changed(after, shifted(before, -28, 0), part, 3))
	}
	p.panelSays("Placed by hand: nothing was measured.")
	if v := p.register(); v.Sign != "unsure" || !strings.Contains(v.Sentence, "placed by hand") || v.Rows[0].Left.Known || v.Stars != 0 {
		t.Errorf("placed by hand: %s, %q, left %+v, %d stars", v.Sign, v.Sentence, v.Rows[0].Left, v.Stars)
	}
	p.pressButton("Quarter turn right, red plate")
	p.waitFor(`v.register.rows[0].pose.turnDeg < -80`)
	if m := did("turned", 40, y-cy); math.Abs(m[0]) > 0.01 || math.Abs(m[1]-1) > 0.01 || math.Abs(m[3]+1) > 0.01 {
		t.Errorf("a quarter turn gives %.3f", m)
	}
	p.pressButton("Mirror, red plate")
	p.waitFor(`v.register.rows[0].pose.mirrored`)
	p.panelSays("mirrored left to right: scanned from the back")
	if m := did("mirrored", 40, y-cy); m.Det() > -0.9 {
		t.Errorf("mirrored it lies by %.3f", m)
	}
	for i := len(acts) - 2; i >= 0; i-- {
		p.command("undo", nil)
		if m := lies("undone", acts[i][2]+acts[i][0]*cx+acts[i][1]*cy-cx, acts[i][5]+acts[i][3]*cx+acts[i][4]*cy-cy, 1e-9); m != acts[i] {
			t.Errorf("after %d undone acts the red plate lies by %.6f, before it lay by %.6f", len(acts)-1-i, m, acts[i])
		}
	}
	if share := changed(p.picturesAlone(), before, part, 3); share > 0.001 {
		t.Errorf("all undone, %.2f %% of the picture differ from what it was", 100*share)
	}

	p.enter("The picture lies to the right by, red plate", "19")
	p.waitFor(`v.register.rows[0].way === "hand"`)
	p.pressButton("Measure again from here, red plate")
	p.waitFor(`v.register.rows[0].way === "found" && v.idle`)
	lies("measured from 7 px off", 12, -7, 0.05)
	p.command("undo", nil)
	lies("the measurement undone", 19, y-cy, 1e-6)
}

// alike tells whether two maps differ by no more than near pixels anywhere on 1000.
func alike(a, b affine.Matrix, near float64) bool {
	for i, scale := range [6]float64{1000, 1000, 1, 1000, 1000, 1} {
		if math.Abs(a[i]-b[i])*scale > near {
			return false
		}
	}
	return true
}

// TestOffsetsLockAndCopy stretches a layer across the grain, copies it and locks it.
func TestOffsetsLockAndCopy(t *testing.T) {
	p := demo(t)
	p.station()
	before := p.settled()
	p.enter("Stretch across the grain of the magenta layer, %", "2")
	p.waitFor(`v.register.rows[1].offset.acrossPct === 2`)
	p.waitChanged(before, "print", 0.02)
	// half of 2 % of a print 300 mm wide, at each side
	if worst := p.register().Rows[1].Against.WorstUm; math.Abs(worst-3000) > 10 {
		t.Errorf("the magenta layer lies %.0f µm off cyan at the worst place, want 3000", worst)
	}
	upright := p.settled()
	p.run(`document.querySelector("#panel-register input[value=level]").click()`)
	p.waitFor(`v.register.grain === "level"`)
	p.waitChanged(upright, "print", 0.01)

	p.enter("To the right of the cyan layer, µm", "250")
	p.waitFor(`v.register.rows[0].offset.dxUm === 250`)
	p.pressButton("Copy the offset of the cyan layer to the yellow layer")
	p.waitFor(`v.register.rows[2].offset.dxUm === 250`)
	if against := p.register().Rows[2].Against; against.WorstUm > 0.1 {
		t.Errorf("yellow lies as cyan does and is said to be %.1f µm off it", against.WorstUm)
	}
	p.run(`document.querySelector("#panel-register input[aria-label='Lock the cyan layer']").click()`)
	p.panelSays("Locked where it lies: unlock it to move it.")
	if open := eval[int](p, `document.querySelectorAll("#panel-register [data-printer=cyan] input[type=number]:not(:disabled)").length`); open != 0 {
		t.Errorf("%d fields of a locked layer can be typed into", open)
	}
	if answer := eval[string](p, `threeply.do(JSON.stringify({do: "nudge", printer: "cyan", dxUm: 0}))`); !strings.Contains(answer, "locked") {
		t.Errorf("a locked layer moves: %s", answer)
	}
	p.run(`document.querySelector("#panel-register input[value=magenta]").click()`)
	p.waitFor(`v.register.bench === "magenta" && v.register.rows[0].against.worstUm > 1000`)
	if answer := eval[string](p, `threeply.do(JSON.stringify({do: "bench", printer: "yellow"}))`); !strings.Contains(answer, "too faint") {
		t.Errorf("yellow is taken to register to: %s", answer)
	}
}
