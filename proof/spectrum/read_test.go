package spectrum

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// ramp writes a spectrum of 0.1 at 380 nm to 0.8 at 730.
func ramp(from, to, step int, form string) string {
	var b strings.Builder
	for nm := from; nm <= to; nm += step {
		fmt.Fprintf(&b, form+"\n", nm, 0.1+0.7*float64(nm-380)/350)
	}
	return b.String()
}

func TestParseReflectance(t *testing.T) {
	for _, text := range []string{
		ramp(380, 730, 10, "%d %.9f"),
		"nm,R\n" + ramp(360, 740, 20, "%d,%.9f"),
		"# own paper\n# by hand\nWavelength (nm), reflectance factor\n" + ramp(380, 730, 10, "%d %.9f"),
		"\ufeff" + ramp(380, 730, 10, "%d %.9f"),
		"\ufeffnm;R\n" + ramp(380, 730, 10, "%d;%.9f"),
		"# own paper\r\n\r\n" + ramp(340, 850, 1, "%d;\t%.9f\r"),
	} {
		if i := strings.Index(text, "\n340"); i >= 0 {
			text = text[:i] + "\n" + text[strings.Index(text, "\n380")+1:]
		}
		if i := strings.Index(text, "\n731"); i >= 0 {
			text = text[:i]
		}
		c, err := ParseReflectance([]byte(text))
		if err != nil {
			t.Errorf("%.20q: %v", text, err)
			continue
		}
		for i, v := range c {
			if !(math.Abs(v-(0.1+0.7*float64(5*i)/350)) < 1e-8) {
				t.Errorf("%.20q at %g nm: %v", text, Wavelength(i), v)
				break
			}
		}
	}
}

func TestParseReflectanceRefuses(t *testing.T) {
	good := ramp(380, 730, 10, "%d %.4f")
	for text, want := range map[string]string{
		"":                                 "no spectrum",
		"<html>":                           "no spectrum",
		"a heading\nand another\n" + good:  "line 2: “and” is no wavelength",
		"380\n":                            "line 1: want two numbers, nm and reflectance, found only “380”",
		strings.ReplaceAll(good, ".", ","): "line 1: “380 0,1000” has commas for decimals; write points",
		strings.ReplaceAll(strings.ReplaceAll(good, " ", ";"), ".", ","): "line 1: “380;0,1000” has commas for decimals",
		strings.ReplaceAll(strings.ReplaceAll(good, " ", ","), ".", ","): "has commas for decimals",
		ramp(400, 730, 10, "%d %.4f"):                                    "must reach",
		ramp(380, 700, 10, "%d %.4f"):                                    "must reach",
		ramp(380, 730, 25, "%d %.4f"):                                    "line 2: there is a gap",
		strings.Replace(good, " 0.3", " -0.3", 1):                        "negative",
		strings.Replace(good, " 0.3", " 30", 1):                          "above 1; divide percent",
		strings.Replace(good, "500 ", "480 ", 1):                         "line 13: 480 nm comes after 490",
		strings.Replace(good, "500 ", "5oo ", 1):                         "line 13: “5oo” is no wavelength",
		strings.Replace(good, " 0.3", " NaN", 1):                         "is no reflectance",
		good + "740 0.5 0.6\n":                                           "line 37: want two numbers, nm and reflectance, found 3",
	} {
		_, err := ParseReflectance([]byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.30q…: %v, want %q", text, err, want)
		}
	}
}

func FuzzParseReflectance(f *testing.F) {
	f.Add([]byte(ramp(380, 730, 10, "%d %.4f")))
	f.Add([]byte("nm\tR\n380,1\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := ParseReflectance(text)
		for _, v := range c {
			if err == nil && !(v >= 0 && v <= 1) {
				t.Fatalf("lets %v through", v)
			}
		}
	})
}
