package browsertest

import (
	"testing"
)

// TestShaderAgainstGo compares, over both whole pictures, the shader with the Go
// renderer on the same plates, maps and table: the one defines what the other shows.
func TestShaderAgainstGo(t *testing.T) {
	p := demo(t)
	for _, c := range []struct {
		name string
		do   func()
	}{
		{"fitted", func() {}},
		{"at 100 %", func() { p.command("zoom", map[string]any{"percent": 100}) }},
		{"at 300 % with a layer turned", func() {
			p.command("zoom", map[string]any{"percent": 300})
			p.command("nudge", map[string]any{"printer": "cyan", "dxUm": 77.0, "dyUm": -31.0, "turnDeg": 0.4, "stretchPct": 0.2})
		}},
		{"another palette, magenta hidden", func() {
			p.command("zoom", map[string]any{"fit": true})
			p.command("palette", map[string]any{"id": p.view().Palettes[0].ID})
			p.command("order", map[string]any{"order": "mcy"})
			p.command("hide", map[string]any{"printer": "magenta", "hidden": true})
		}},
		{"masked, magenta hidden", func() { p.command("masked", map[string]any{"on": true}) }},
		{"lighter, likely and heavier, masked", func() { p.command("look", map[string]any{"id": "sure"}) }},
		{"in the dim gallery", func() { p.command("dim", map[string]any{"on": true}) }},
		{"unevenly shrunken film", func() {
			p.command("look", map[string]any{"id": "beside"})
			p.run(`(() => {
				const s = JSON.parse(threeply.sessionText());
				const k = s.sources[s.assign[1]];
				const bend = (f) => ({ w: k.width, h: k.height, cx: [9, -6, 4, 3, -5, 2, 6].map((v) => f * v), cy: [-5, 7, 3, -4, 2, 6, -3].map((v) => f * v), before: {}, after: {} });
				s.local[s.assign[0]] = bend(1);
				s.local[s.assign[2]] = bend(-0.7);
				s.local_on = true;
				threeply.restore("bent", JSON.stringify(s));
			})()`)
		}},
	} {
		c.do()
		p.rest()
		got := p.compare()
		t.Logf("%s: %d pixels, %.3f %% within 2/255, worst %d/255 %s", c.name, got.Pixels, 100*got.Share2, got.Worst, got.Where)
		if got.Pixels < 60_000 {
			t.Errorf("%s: only %d pixels were compared", c.name, got.Pixels)
		}
		if got.Share2 < 0.99 || got.Worst > 6 {
			t.Errorf("%s: want 99 %% within 2/255 and none beyond 6", c.name)
		}
	}
}

// comparison is how far the shader's pictures lie from the Go renderer's.
type comparison struct {
	Pixels int     `json:"pixels"`
	Share2 float64 `json:"share2"` // within 2/255 in every channel
	Worst  int     `json:"worst"`
	Where  string  `json:"where"`
}

// compare compares the panes as they stand.
func (p *page) compare() comparison {
	p.t.Helper()
	return eval[comparison](p, `(async () => {
		const answer = await threeply.compare();
		return typeof answer === "string" ? JSON.parse(answer) : answer;
	})()`)
}
