package pigment

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"threeply/proof/spectrum"
)

func TestEveryPigmentIsComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Pigments() {
		if seen[p.CI] {
			t.Errorf("%s twice", p.CI)
		}
		seen[p.CI] = true
		for what, s := range map[string]string{"name": p.Name, "era": p.Era, "source": p.Source, "status": p.Status, "lightfastness": p.Lightfastness, "hazard": p.Hazard} {
			if s == "" {
				t.Errorf("%s has no %s", p.CI, what)
			}
		}
		if got, ok := PigmentByCI(p.CI); !ok || got.Name != p.Name {
			t.Errorf("%s is not found", p.CI)
		}
	}
}

// Thickness 1 is where the peak between 400 and 700 nm lets a tenth through.
func TestPeaksAreOfUnitDensity(t *testing.T) {
	worst := 0.0
	for _, p := range Pigments() {
		k, s, peak := p.K(), p.S(), 0.0
		for i, v := range k {
			if !(v >= 0 && s[i] >= 0 && v < 10 && s[i] < 2) {
				t.Fatalf("%s at %g nm: K %v, S %v", p.CI, spectrum.Wavelength(i), v, s[i])
			}
			if nm := spectrum.Wavelength(i); nm >= 400 && nm <= 700 {
				peak = max(peak, v)
			}
		}
		worst = max(worst, math.Abs(peak-math.Ln10))
		if !(math.Abs(peak-math.Ln10) < 0.02) {
			t.Errorf("%s peaks at %.4f, want %.4f", p.CI, peak, math.Ln10)
		}
	}
	t.Logf("largest error %.2g", worst)
}

// Where the unwanted absorptions of a palette lie, at 505 nm between the blue
// and the green window, all pigments at load 1: modern about 1.4, historic above 2
// (common practice: historic sets close the window).
func TestHistoricPalettesCloseTheWindow(t *testing.T) {
	const at = (505 - spectrum.First) / spectrum.Step
	for _, p := range Palettes() {
		sum := 0.0
		for _, pr := range Printers() {
			tissue := p.Layer(pr)
			tissue.Load = 1
			k, _ := tissue.KS()
			sum += k[at]
		}
		t.Logf("%-10s %.2f", p.ID, sum)
		if p.Era == Historic && !(sum > 2) {
			t.Errorf("%s: K at 505 nm sums to %.2f", p.ID, sum)
		}
		if p.ID == "arylide" && !(math.Abs(sum-1.4) < 0.15) {
			t.Errorf("%s: K at 505 nm sums to %.2f", p.ID, sum)
		}
	}
}

// What is said of a spectrum is what its source says: which of K and S was
// fitted, to what, and what was assumed or remembered.
func TestStatusIsOfTheSource(t *testing.T) {
	for _, p := range Pigments() {
		for word, said := range map[string]bool{
			"acrylic films":  strings.HasPrefix(p.Source, acrylics),
			"from memory":    p.Source == unsourced || strings.Contains(p.Source, "from memory"),
			"swatch":         strings.Contains(p.Source, swatches) || p.Source == fibre,
			"scattering":     true,
			"absorption and": strings.HasPrefix(p.Source, swatches+", swatch") && p.Status != StatusSwatchesAssumed || strings.HasSuffix(p.Source, "; S too"),
		} {
			if strings.Contains(p.Status, word) != said {
				t.Errorf("%s: “%s” of %s", p.CI, p.Status, p.Source)
			}
		}
	}
}

// Compared with the parameters and their provenance where they lie beside the
// project: a scattering counts as fitted only where it is the fit's.
func TestStatusIsOfTheFit(t *testing.T) {
	text, err := os.ReadFile("../../../shared/pigments.json")
	if err != nil {
		t.Skip("SKIPPED: no fitted pigments beside the project; what is said of them goes uncompared")
	}
	var f struct {
		Pigments map[string]struct {
			Data, Status string
			S            struct{ A, B float64 }
			Fit          []float64 `json:"S_acrylic_paint"`
		}
	}
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	for _, p := range Pigments() {
		q, ok := f.Pigments[p.CI]
		if !ok {
			if p.Status != StatusMemory {
				t.Errorf("%s is not in the file", p.CI)
			}
			continue
		}
		fitted := len(q.Fit) == 2 && math.Abs(q.Fit[0]-p.scatter.a) < 1e-3 && math.Abs(q.Fit[1]-p.scatter.b) < 1e-2
		for word, want := range map[string]bool{
			"absorption from memory": q.Status == "from memory",
			"acrylic films":          strings.HasPrefix(q.Data, "BE16"),
			"absorption and":         fitted,
			// PY74's scattering is not that of the swatch, whose grade is opaque.
			"after measured": strings.Contains(q.Data, "S from NTNU") && p.Status != StatusFilmsFine,
		} {
			if strings.Contains(p.Status, word) != want {
				t.Errorf("%s: “%s”, but the data are %s, S %v, fitted %v", p.CI, p.Status, q.Data, q.S, q.Fit)
			}
		}
	}
}

// The harmonised classes of cadmium sulfide, lead chromate and nickel compounds
// (EU regulation 1272/2008, from memory) and the trade's usual cautions.
func TestHazardsAreSaid(t *testing.T) {
	for ci, words := range map[string][]string{
		"PY34": {"TOXIC", "Lead", "cancer"}, "PY37": {"TOXIC", "Cadmium", "carcinogenic (1B)"}, "PY40": {"Cobalt"},
		"PR106": {"TOXIC", "Mercury"}, "PR90": {"TOXIC", "lead"}, "PG50": {"TOXIC", "nickel", "carcinogenic by inhalation"},
		"PY83": {"200 °C"}, "PB27": {"hydrogen cyanide"}, "PBk7": {"2B"}, "NY24": {"swallowed"}, "NR4": {"Allergen"},
	} {
		p, _ := PigmentByCI(ci)
		for _, w := range words {
			if !strings.Contains(p.Hazard, w) {
				t.Errorf("%s: “%s” says nothing of %s", ci, p.Hazard, w)
			}
		}
	}
	for _, p := range Pigments() {
		if !strings.Contains(strings.ToLower(p.Hazard), "no dust") && !strings.Contains(p.Hazard, "Wet handling") {
			t.Errorf("%s: “%s” does not ask for no dust", p.CI, p.Hazard)
		}
	}
}
