package fitness

import (
	"math"
	"strings"
	"testing"
)

// good is a scan with nothing wrong.
func good() Plate {
	return Plate{
		Bits: 16, PPI: 2400, Encoding: "linear, as chosen", Width: 5000, Height: 4000,
		Negative: true, Gamma: 0.8, Thin: 0.3, Dense: 1.7, Rebate: 0.28, Blur: 1,
		Facts: Facts{Kind: "TIFF", Known: "profile", PPIDown: 2400, Codes: Codes{Levels: 20000, Lowest: 0.03, Highest: 0.5}},
	}
}

// find returns the finding of a plate about something.
func find(findings []Finding, plate int, about string) Finding {
	for _, f := range findings {
		if f.Plate == plate && f.About == about {
			return f
		}
	}
	return Finding{}
}

func TestGoodScansAreFine(t *testing.T) {
	findings := Report([3]Plate{good(), good(), good()}, 300)
	for _, f := range findings {
		if f.Weight != Fine || f.Do != "" || f.Says == "" || f.Figure == "" {
			t.Errorf("%+v", f)
		}
	}
	if len(findings) < 38 || Worst(findings) != Fine {
		t.Errorf("%d findings, worst %s", len(findings), Worst(findings))
	}
	if f := find(findings, 1, "range"); !strings.Contains(f.Figure, "5.8 stops") || strings.Contains(f.Figure, "at least") { // 1.4 / 0.8 / 0.301
		t.Errorf("range: %+v", f)
	}
}

// Each fault is found on the plate that has it and nowhere else, with a figure,
// words and what to do.
func TestEachFaultIsSaid(t *testing.T) {
	for about, c := range map[string]struct {
		fault  func(p *Plate)
		weight Weight
		says   string
	}{
		"clipped ends":        {func(p *Plate) { p.Clipped[0] = 0.04 }, Mend, "shadows"},
		"levels used":         {func(p *Plate) { p.Codes.Levels = 16 }, Mend, "only 16 greys"},
		"combs":               {func(p *Plate) { p.Codes.Gaps = 0.2 }, Mind, "gaps"},
		"compression":         {func(p *Plate) { p.Kind, p.Step = "JPEG", 12 }, Mend, "Strong compression"},
		"sharpness":           {func(p *Plate) { p.Blur = 1.8 }, Mind, "Softer"},
		"streaks":             {func(p *Plate) { p.Streaks = Streaks{1, 0, 0.05} }, Mind, "lines"},
		"resolution":          {func(p *Plate) { p.PPIDown = 1200 }, Mend, "Unequal"},
		"encoding":            {func(p *Plate) { p.Known, p.Encoding = "assumed", "linear (16 bits, no profile)" }, Mind, "gamma 2.2"},
		"levelled":            {func(p *Plate) { p.Codes.Lowest, p.Codes.Highest = 0, 1 }, Mind, "fills all codes"},
		"pixels on the print": {func(p *Plate) { p.Width, p.Height, p.PPI, p.PPIDown = 1000, 800, 600, 600 }, Mend, "Pixels will show"},
	} {
		set := [3]Plate{good(), good(), good()}
		c.fault(&set[2])
		findings := Report(set, 300)
		for i := range 2 {
			if f := find(findings, i, about); f.Weight != Fine {
				t.Errorf("%s: also said of plate %d: %+v", about, i, f)
			}
		}
		f := find(findings, 2, about)
		if f.Weight != c.weight || !strings.Contains(f.Says, c.says) || f.Do == "" || f.Figure == "" {
			t.Errorf("%s: %+v", about, f)
		}
	}
}

func TestEightBitsPaddedToSixteen(t *testing.T) {
	p := good()
	p.Codes.Levels, p.Codes.Unit = 231, 257
	if f := p.levels(); f.Weight != Mind || !strings.Contains(f.Says, "8 bits that were saved as 16") {
		t.Errorf("%+v", f)
	}
}

// The same codes read as the audit read them: density 0.28 to 1.59 taken as
// linear is 0.61 to 3.50 taken as gamma 2.2, since D = -log10 v².² = 2.2 · -log10 v.
func TestAssumedEncodingSaysWhatElseItWouldBe(t *testing.T) {
	p := good()
	p.Known, p.Encoding, p.Thin, p.Dense = "assumed", "linear (16 bits, no profile)", 0.2773, 1.591
	if f := p.encoding(); !strings.Contains(f.Says, "0.61 to 3.50 in place of 0.28 to 1.59") {
		t.Errorf("%s", f.Says)
	}
	// 18 % grey has the sRGB code 0.4614 (IEC 61966-2-1): density 0.745 falls to 0.336.
	p.Encoding, p.Thin = "sRGB (8 bits, no profile)", -math.Log10(0.18)
	if _, thin, _ := p.otherwise(); math.Abs(thin-0.336) > 0.0005 {
		t.Errorf("%.4f", thin)
	}
}

func TestWhatTheSetHasInCommon(t *testing.T) {
	set := [3]Plate{good(), good(), good()}
	for i := range set {
		set[i].Codes.Lowest, set[i].Codes.Highest = 0.005, 0.995
	}
	if f := find(Report(set, 0), All, "levelled each on its own"); f.Weight != Mind {
		t.Errorf("three levelled scans: %+v", f)
	}
	set = [3]Plate{good(), good(), good()}
	set[1].Negative, set[1].PPI, set[1].PPIDown = false, 1200, 1200
	findings := Report(set, 0)
	if f := find(findings, All, "polarity"); f.Weight != Mend || f.Figure != "negative, positive and negative" {
		t.Errorf("%+v", f)
	}
	if f := find(findings, All, "settings"); f.Weight != Mind || !strings.Contains(f.Figure, "2400, 1200 and 2400 ppi") {
		t.Errorf("%+v", f)
	}
}

func TestClippedPlatesHoldAtLeast(t *testing.T) {
	p := good()
	p.Clipped[1] = 0.02
	if stops, atLeast := p.Stops(); !atLeast || math.Abs(stops-1.4/0.8/math.Log10(2)) > 1e-9 {
		t.Errorf("%g, %v", stops, atLeast)
	}
	if f := p.stops(); !strings.Contains(f.Figure, "at least 5.8") {
		t.Errorf("%+v", f)
	}
}
