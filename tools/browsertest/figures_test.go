package browsertest

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"threeply/proof/balance"
	"threeply/proof/cube"
	"threeply/proof/icc"
	"threeply/proof/picture"
	"threeply/proof/reach"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// TestFigures reads the figures of two recipes from the page, one whose greys are held
// and one where they are not, and computes them here once more.
func TestFigures(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "proof"})
	for _, c := range []struct{ palette, order, paper, light string }{
		{"earth", "ymc", "sized", "D50"},
		{"latechrome", "myc", "bright", "A"},
	} {
		p.command("palette", map[string]any{"id": c.palette})
		p.command("order", map[string]any{"order": c.order})
		p.command("paper", map[string]any{"id": c.paper})
		p.command("light", map[string]any{"id": c.light})
		p.rest()
		p.waitFor(`document.querySelector("#panel-proof .computed").matches(":not([hidden]):not([aria-busy])")`)
		checkFigures(t, p)
	}
}

// recipe is that of the page's session.
func (p *page) recipe() (stack.Recipe, spectrum.Light) {
	p.t.Helper()
	s := p.session()
	r, light, err := picture.Recipe(&s)
	if err != nil {
		p.t.Fatal(err)
	}
	return r, light
}

func checkFigures(t *testing.T, p *page) {
	t.Helper()
	r, light := p.recipe()
	scale := balance.Neutral(r, light, balance.DefaultLimit)
	words := eval[string](p, `document.querySelector("#panel-proof .computed").textContent`)
	volume := reach.New(cube.New(r, light, picture.CubeNodes), balance.DefaultLimit).Volume()
	if want := fmt.Sprintf("%.0f thousand cubic CIELAB units", volume/1000); !strings.Contains(words, want) {
		t.Errorf("%s: no “%s” in %s", r.Palette.ID, want, words)
	}
	_, _, worst, lost := scale.Strays()
	want := "along the whole scale"
	if lost {
		want = fmt.Sprintf("stray by up to ΔE00 %.1f", worst)
	}
	if !strings.Contains(words, want) {
		t.Errorf("%s: no “%s” in %s", r.Palette.ID, want, words)
	}

	// The lines of the plot end at the depth, by the scale under it.
	ends := eval[[]float64](p, `(() => {
		const plot = document.querySelector("#panel-proof .balance");
		const marks = [...plot.querySelectorAll("text[text-anchor=middle]")];
		const [light, dark] = [marks[0], marks.at(-1)].map(e => Number(e.getAttribute("x")));
		return [...plot.querySelectorAll("path.under")].map(e => 100 * (dark - Number(e.getAttribute("d").split(/[ML ]/).at(-2))) / (dark - light));
	})()`)
	if len(ends) != 3 {
		t.Fatalf("%s: %d lines in the plot", r.Palette.ID, len(ends))
	}
	for _, end := range ends {
		if !(math.Abs(end-scale.Depth.Lab[0]) < 0.1) {
			t.Errorf("%s: a line of the plot ends at L* %.2f, want %.2f", r.Palette.ID, end, scale.Depth.Lab[0])
		}
	}

	shown := eval[[][]string](p, `[...document.querySelectorAll("#panel-proof .computed tbody tr")].map(row => [...row.querySelectorAll("td")].map(cell => cell.textContent))`)
	var rows [][]float64
	chosen := light.Lab(r.Reflectance(scale.Depth.Thickness))
	rows = append(rows, []float64{chosen[1], chosen[2], 0})
	for _, id := range []string{"D50", "A", "LED-B1", "LED-B3"} {
		if id == light.ID {
			continue
		}
		l, _ := spectrum.LightByID(id)
		lab := l.Lab(r.Reflectance(scale.Depth.Thickness))
		rows = append(rows, []float64{lab[1], lab[2], spectrum.DeltaE00(chosen, lab)})
	}
	deeper := balance.HowDeep(r, light, balance.DefaultLimit)
	for _, density := range []float64{scale.Depth.VisualDensity, deeper.NoVeil, deeper.Through, deeper.Finer, deeper.More} {
		rows = append(rows, []float64{density})
	}
	if len(shown) != len(rows) {
		t.Fatalf("%s: %d rows are shown, want %d: %q", r.Palette.ID, len(shown), len(rows), shown)
	}
	for i, row := range rows {
		for j, want := range row {
			text := strings.NewReplacer("−", "-", "+", "", "–", "0").Replace(shown[i][j])
			if got, err := strconv.ParseFloat(text, 64); err != nil || !(math.Abs(got-want) <= 0.051) {
				t.Errorf("%s: row %d cell %d is “%s”, want %.3f", r.Palette.ID, i, j, shown[i][j], want)
			}
		}
	}
}

// TestSaveProfile saves the tissues as an ICC profile as a user does; its tables are
// those that this machine computes.
func TestSaveProfile(t *testing.T) {
	p := demo(t)
	folder := p.downloads()
	const limit = 0.6 // of the coat, which 100 % then stands for
	p.command("limit", map[string]any{"value": limit})
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`document.querySelector("#panel-sheets").textContent.includes("now 60\u00a0% of its coat")`)
	p.run(`[...document.querySelectorAll("#drawer button")].find(b => b.textContent === "ICC profile of these tissues").click()`)
	saved, err := os.ReadFile(waitFile(t, folder, ".icc"))
	if err != nil {
		t.Fatal(err)
	}
	r, light := p.recipe()
	want := icc.Output(r, light, limit, icc.Title(r, light, limit), eval[string](p, `JSON.parse(threeply.view()).version`), time.Now(), nil)
	if len(saved) != len(want) {
		t.Fatalf("the saved profile has %d bytes, want %d", len(saved), len(want))
	}
	const dated = 36 // the header's date ends here
	apart := 0
	for i := dated; i+1 < len(want); i += 2 {
		got, should := binary.BigEndian.Uint16(saved[i:]), binary.BigEndian.Uint16(want[i:])
		if d := int(got) - int(should); d < -2 || d > 2 {
			apart++
		}
	}
	if share := float64(apart) / float64(len(want)/2); share > 0.001 {
		t.Errorf("%.2f %% of the saved profile differ from the native one by more than 2/65535", 100*share)
	}
}
