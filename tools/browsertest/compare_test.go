package browsertest

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// TestShaderAgainstGo compares, pixel by pixel, what the shader draws in every look with
// what Go defines for it (packages render and inspect), on the same plates, maps and
// tables. A look that is added is looked at by itself.
func TestShaderAgainstGo(t *testing.T) {
	p := demo(t)
	p.resize(400, 370) // every pixel is computed twice
	p.rest()
	var looks []string
	for _, l := range p.view().Looks {
		if l.ID != "board" { // whose small prints are Go's own
			looks = append(looks, l.ID)
		}
	}
	do := func(commands ...string) func() {
		return func() {
			for _, c := range commands {
				p.sent(c)
			}
		}
	}
	source := func(filter int) int {
		return eval[int](p, fmt.Sprintf(`JSON.parse(threeply.sessionText()).assign[%d]`, filter))
	}
	for _, c := range []struct {
		name  string
		set   func()
		looks []string // nil for all
	}{
		{"as opened", func() {}, nil},
		{"against a held print: offset, masked, magenta hidden, another palette, at 100 %", do(
			`{"do":"hold"}`, `{"do":"side","which":"left","id":"held-1"}`,
			`{"do":"nudge","printer":"cyan","dxUm":77,"dyUm":-31,"turnDeg":0.4,"stretchPct":0.2}`,
			`{"do":"masked","on":true}`, `{"do":"hide","printer":"magenta","hidden":true}`, `{"do":"palette","id":"gamboge"}`, `{"do":"order","order":"mcy"}`,
			`{"do":"edges","first":0,"second":2}`, `{"do":"plates","first":0,"second":2}`, `{"do":"layer","id":"yellow"}`,
			`{"do":"zoom","percent":100}`),
			[]string{"beside", "divided", "difference", "reach", "losses", "outside", "palettes", "ways", "dots", "masks", "layer", "plate", "edges", "marks"}},
		{"enlarged, in the gallery, to the borders", do(
			`{"do":"side","which":"left","id":"reference"}`, `{"do":"hide","printer":"magenta","hidden":false}`, `{"do":"dim","on":true}`, `{"do":"whole"}`, `{"do":"zoom","percent":300}`),
			[]string{"beside", "divided", "difference", "edges", "rooms"}},
		{"unevenly shrunken film", func() {
			do(`{"do":"zoom","fit":true}`, `{"do":"masked","on":false}`, `{"do":"dim","on":false}`)()
			p.run(`(() => {
				const s = JSON.parse(threeply.sessionText());
				const k = s.sources[s.assign[1]];
				const bend = (f) => ({ w: k.width, h: k.height, cx: [9, -6, 4, 3, -5, 2, 6].map((v) => f * v), cy: [-5, 7, 3, -4, 2, 6, -3].map((v) => f * v), before: {median: 0, p95: 0, max: 0}, after: {median: 0, p95: 0, max: 0} });
				s.local[s.assign[0]] = bend(1);
				s.local[s.assign[2]] = bend(-0.7);
				s.local_on = true;
				const said = JSON.parse(threeply.desk(JSON.stringify({ do: "openSession", name: "bent", text: JSON.stringify(s) })));
				if (said.error) throw new Error(said.error);
			})()`)
		}, []string{"beside", "difference", "reach", "edges", "plate", "layer", "marks"}},
		{"the red plate mirrored, the blue one a quarter turned", func() {
			p.sent(fmt.Sprintf(`{"do":"place","source":%d,"pose":{"dxPx":12,"dyPx":-7,"turnDeg":3,"stretchPct":1,"mirrored":true}}`, source(0)))
			p.sent(fmt.Sprintf(`{"do":"place","source":%d,"pose":{"dxPx":-30,"dyPx":5,"turnDeg":90,"stretchPct":-2,"mirrored":false}}`, source(2)))
			do(`{"do":"way","straight":true,"range":1.6,"atDepth":false}`, `{"do":"expose","printer":"cyan","stops":0.4}`)()
		}, []string{"losses", "exposed", "beside", "difference", "reach", "edges", "turns", "marks"}},
	} {
		c.set()
		which := c.looks
		if which == nil {
			which = looks
		}
		for _, look := range which {
			p.sent(fmt.Sprintf(`{"do":"look","id":%q}`, look))
			p.compareAll(c.name + ": " + look)
		}
	}

	// the loupe over the pictures and over the plates, in full contrast, far enlarged
	frames := p.view().Frames
	f := frames[len(frames)/2]
	do(`{"do":"zoom","percent":350}`, `{"do":"loupe","on":true,"zoom":8}`, `{"do":"contrast","on":true}`,
		fmt.Sprintf(`{"do":"hover","x":%g,"y":%g}`, f.X+0.4*f.W, f.Y+0.3*f.H))()
	p.compareAll("loupe and plates in full contrast", "loupe", "loupe", "loupe")
	do(`{"do":"look","id":"beside"}`, `{"do":"zoom","fit":true}`)()
	f = p.view().Frames[0] // in its middle all three plates show something
	do(fmt.Sprintf(`{"do":"hover","x":%g,"y":%g}`, f.X+f.W/2, f.Y+f.H/2))()
	p.compareAll("loupe beside the pictures", "loupe", "loupe", "loupe")
}

// sent sends a command as the page's scripts do.
func (p *page) sent(command string) {
	p.t.Helper()
	answer := eval[string](p, fmt.Sprintf(`threeply.do(%s)`, quoted(command)))
	var said struct {
		Error string `json:"error"`
	}
	if err := json.Unmarshal([]byte(answer), &said); err != nil || said.Error != "" {
		p.t.Fatalf("%s: %s", command, answer)
	}
}

// compareAll holds every pane on the stage to Go: 99 % of its pixels within 2/255, none
// beyond 6. It is a picture, too: of many colours. more are panes beside the frames.
func (p *page) compareAll(name string, more ...string) {
	p.t.Helper()
	var want []string
	for _, f := range p.view().Frames {
		want = append(want, f.ID)
	}
	want = append(want, more...)
	var seen []string
	for _, one := range p.comparePanes() {
		seen = append(seen, one.Pane)
		p.t.Logf("%s: %s, %d pixels of %d colours, %.3f %% within 2/255, worst %d/255 at %s", name, one.Pane, one.Pixels, one.Colours, 100*one.Share2, one.Worst, one.Where)
		if one.Share2 < 0.99 || one.Worst > 6 {
			p.t.Errorf("%s: %s: shader and Go part: want 99 %% within 2/255 and none beyond 6", name, one.Pane)
		}
		if one.Pixels < 3000 || one.Colours < 30 {
			p.t.Errorf("%s: %s: %d pixels of %d colours are no picture", name, one.Pane, one.Pixels, one.Colours)
		}
	}
	if strings.Join(seen, " ") != strings.Join(want, " ") {
		p.t.Errorf("%s: compared are the panes %q, want %q", name, seen, want)
	}
}

// comparison is how far the shader's picture of a pane lies from Go's.
type comparison struct {
	Pane    string  `json:"pane"`
	Pixels  int     `json:"pixels"`
	Colours int     `json:"colours"` // different ones
	Share2  float64 `json:"share2"`  // within 2/255 in every channel
	Worst   int     `json:"worst"`
	Where   string  `json:"where"`
}

// comparePanes compares the panes as they stand, those of the loupe last.
func (p *page) comparePanes() []comparison {
	p.t.Helper()
	return eval[[]comparison](p, `threeply.compare().then(JSON.parse)`)
}

// compare sums up what comparePanes says.
func (p *page) compare() (all comparison) {
	p.t.Helper()
	within := 0.0
	for _, one := range p.comparePanes() {
		within += one.Share2 * float64(one.Pixels)
		all.Pixels += one.Pixels
		if one.Worst > all.Worst {
			all.Worst, all.Where = one.Worst, one.Pane+" "+one.Where
		}
	}
	all.Share2 = within / float64(max(all.Pixels, 1))
	return all
}
