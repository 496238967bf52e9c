package verdict

import (
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/register"
	"threeply/proof/survey"
	"threeply/proof/warp"
)

func TestWordsSayHowAPlateLies(t *testing.T) {
	size := Size{900, 700}
	for want, parts := range map[string]affine.Parts{
		"Lies as the key does.":                                     {StretchX: 1, StretchY: 1},
		"Against the key: mirrored.":                                {StretchX: -1, StretchY: 1},
		"Against the key: mirrored, a half turn.":                   {StretchX: 1, StretchY: -1},
		"Against the key: a quarter turn.":                          {Turn: -90, StretchX: 1, StretchY: 1},
		"Against the key: turned 3.0°, 2.0 % larger.":               {Turn: 3, StretchX: 1.02, StretchY: 1.02},
		"Against the key: mirrored, turned 2.0°, 2.0 % smaller.":    {Turn: 2, StretchX: -0.98, StretchY: 0.98},
		"Against the key: 1.0 % larger across, 1.5 % smaller down.": {StretchX: 1.01, StretchY: 0.985},
		"Against the key: sheared by 1.1°.":                         {StretchX: 1, StretchY: 1, Shear: 0.02},
		"Against the key: a half turn, turned 1.0°, shifted 5 px.":  {DX: 3, DY: 4, Turn: 179, StretchX: 1, StretchY: 1},
	} {
		m := affine.Compose(parts, 449.5, 349.5)
		if got := FoundWords(register.Plate{Matrix: m, Confidence: 1, Agreeing: 1, Outcome: register.Found}, size, size, false); got != want {
			t.Errorf("%+v: %q, want %q", parts, got, want)
		}
	}
}

func TestWordsSayThatAPartLiesElsewhere(t *testing.T) {
	size := Size{900, 700}
	parted := register.Plate{Matrix: affine.Identity, Confidence: 0.74, Agreeing: 1, Outvoted: 0.26, Survey: survey.Map{Cells: "mmmmmmmmmxxx"}, Residual: warp.Residual{P95: 25, Max: 25.3}, Outcome: register.Found}
	want := "Lies as the key does; but a quarter of the places lie elsewhere by up to 25 px; look at the edges."
	if got := FoundWords(parted, size, size, false); got != want {
		t.Errorf("%q", got)
	}
	few := register.Plate{Matrix: affine.Identity, Confidence: 0.96, Agreeing: 1, Outvoted: 0.04, Survey: survey.Map{Cells: "mmmmmmmmmmxx"}, Residual: warp.Residual{P95: 0.3, Max: 5}, Outcome: register.Found}
	if got := FoundWords(few, size, size, false); got != "Lies as the key does." {
		t.Errorf("a few places: %q", got)
	}
	for share, want := range map[float64]string{0.07: "one place in 14 lies", 0.11: "one place in 9 lies", 0.36: "a third of the places lie", 0.48: "half of the places lie", 0.7: "most of the places lie"} {
		if got := elsewhere(share, 9); !strings.HasPrefix(got, want+" elsewhere by up to 9 px") {
			t.Errorf("%g: %q", share, got)
		}
	}
}

// Whatever comes of it, a sentence says so, and what to do where a person must.
func TestWordsForEveryOutcome(t *testing.T) {
	key := Size{900, 700}
	for _, c := range []struct {
		p         register.Plate
		size      Size
		twinOfKey bool
		want      []string
	}{
		{register.Plate{Outcome: register.IsKey, Confidence: 1, Alike: true, Twin: true}, key, true, []string{"The key: the other plates are registered to it."}},
		{register.Plate{Outcome: register.KeyTooSmall}, key, false, []string{"The key is too small", "900 × 700 pixels, and a side needs 24", "by hand"}},
		{register.Plate{Outcome: register.TooSmall}, Size{20, 30}, false, []string{"Too small", "20 × 30 pixels", "by hand"}},
		{register.Plate{Outcome: register.KeyEven}, key, false, []string{"The key shows nothing", "another key"}},
		{register.Plate{Outcome: register.Even}, key, false, []string{"this plate is all one grey", "by hand"}},
		{register.Plate{Outcome: register.Repeats, Confidence: 0.2}, key, false, []string{"repeats itself", "by hand"}},
		{register.Plate{Outcome: register.Disagrees}, Size{700, 900}, false, []string{"No agreement", "not looked for", "15°", "by hand"}},
		{register.Plate{Outcome: register.Disagrees}, Size{900, 300}, false, []string{"another shape: its long side is 3.0 times the short one, the key's 1.3", "by hand"}},
		{register.Plate{Outcome: register.Found, Matrix: affine.Identity, Confidence: 0.5, Agreeing: 0.64}, key, false, []string{"Lies as the key does; but that is not sure: look at the edges"}},
		{register.Plate{Outcome: register.Found, Matrix: affine.Identity, Confidence: 1, Twin: true}, key, true, []string{"The same scan as the key"}},
		{register.Plate{Outcome: register.Found, Matrix: affine.Identity, Confidence: 1, Twin: true}, key, false, []string{"The same scan as another plate"}},
		{register.Plate{Outcome: register.Found, Matrix: affine.Identity, Confidence: 1, Alike: true}, key, false, []string{"Lies as the key does. It shows the very tones", "scanned twice"}},
	} {
		got := FoundWords(c.p, key, c.size, c.twinOfKey)
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %q in %q", c.p.Outcome, want, got)
			}
		}
	}
}
