package cgats

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

// Files written by hand from the names of fields and keywords of CGATS.17 and ISO 28178
// (from memory).
const spectra = `CGATS.17
ORIGINATOR	"a hand"
DESCRIPTOR	"three patches # with a sign"
CREATED	"2026-03-01"
INSTRUMENTATION "none"
# a comment with BEGIN_DATA in it
NUMBER_OF_FIELDS %d
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME %s
END_DATA_FORMAT
NUMBER_OF_SETS 2
BEGIN_DATA
1 "A1" %s
2 "B 2" %s # the second
END_DATA
`

// each joins what of says of every wavelength from 400 to 700 nm in steps of 20.
func each(of func(nm int) string) string {
	var out []string
	for nm := 400; nm <= 700; nm += 20 {
		out = append(out, of(nm))
	}
	return strings.Join(out, "\t")
}

func share(nm int) float64 { return float64(nm) / 1000 }

func TestSpectralSpellings(t *testing.T) {
	const n = 16
	for name, f := range map[string]struct {
		field, value func(nm int) string
		fields       int
	}{
		"shares":     {func(nm int) string { return fmt.Sprintf("SPECTRAL_NM%d", nm) }, func(nm int) string { return fmt.Sprint(share(nm)) }, n + 2},
		"underscore": {func(nm int) string { return fmt.Sprintf("spectral_nm_%d", nm) }, func(nm int) string { return fmt.Sprint(share(nm)) }, n + 2},
		"without NM": {func(nm int) string { return fmt.Sprintf("SPECTRAL_%d", nm) }, func(nm int) string { return fmt.Sprint(share(nm)) }, n + 2},
		"short":      {func(nm int) string { return fmt.Sprintf("nm%d", nm) }, func(nm int) string { return fmt.Sprint(share(nm)) }, n + 2},
		"number":     {func(nm int) string { return fmt.Sprintf("%d", nm) }, func(nm int) string { return fmt.Sprint(share(nm)) }, n + 2},
		"percent":    {func(nm int) string { return fmt.Sprintf("SPECTRAL_PCT%d", nm) }, func(nm int) string { return fmt.Sprint(100 * share(nm)) }, n + 2},
		"unsaid":     {func(nm int) string { return fmt.Sprintf("SPEC_%dnm", nm) }, func(nm int) string { return fmt.Sprint(100 * share(nm)) }, n + 2},
		"pairs":      {func(int) string { return "SPECTRAL_NM SPECTRAL_DEC" }, func(nm int) string { return fmt.Sprint(nm, " ", share(nm)) }, 2*n + 2},
		"exponents":  {func(nm int) string { return fmt.Sprintf("SPECTRAL_NM%d.0", nm) }, func(nm int) string { return fmt.Sprintf("%.3e", share(nm)) }, n + 2},
		"falling, as any order of fields is allowed": {func(nm int) string { return fmt.Sprintf("SPECTRAL_NM%d", 1100-nm) }, func(nm int) string { return fmt.Sprint(share(1100 - nm)) }, n + 2},
	} {
		values := each(f.value)
		got, err := Read([]byte(fmt.Sprintf(spectra, f.fields, each(f.field), values, values)))
		if err != nil || len(got) != 1 || len(got[0].List) != 2 {
			t.Errorf("%s: %v", name, err)
			continue
		}
		r := got[0]
		if !reflect.DeepEqual(r.Named, []string{"SAMPLE_ID", "SAMPLE_NAME"}) || r.List[0].Names[1] != "A1" || r.List[1].Names[1] != "B 2" || r.List[1].Line != 14 {
			t.Errorf("%s: %v, %+v", name, r.Named, r.List)
		}
		for i, nm := range r.Wavelengths {
			if nm != float64(400+20*i) || math.Abs(r.List[1].Spectrum[i]-nm/1000) > 1e-9 {
				t.Errorf("%s: %g nm reads %g", name, nm, r.List[1].Spectrum[i])
			}
		}
	}
}

// Several tables in one file, the second with the fields of the first, ends of lines of
// other systems, a mark of the byte order.
func TestTables(t *testing.T) {
	text := "\ufeffISO28178\r\nWEIGHTING_FUNCTION \"ILLUMINANT, D65\"\r\nBEGIN_DATA_FORMAT\r\nLAB_B LAB_L SAMPLE_NAME\r\nLAB_A END_DATA_FORMAT\r\nBEGIN_DATA\r\n3 50 C4 -2\r\nEND_DATA\r\nNUMBER_OF_SETS 1\r\nBEGIN_DATA\r\n4 60 C5 -1.5\r\nEND_DATA\r\n"
	got, err := Read([]byte(text))
	if err != nil || len(got) != 2 {
		t.Fatal(err)
	}
	if *got[0].List[0].Lab != [3]float64{50, -2, 3} || *got[1].List[0].Lab != [3]float64{60, -1.5, 4} || got[0].Illuminant != "D65" || got[1].List[0].Names[0] != "C5" {
		t.Errorf("%+v", got)
	}
}

// A form half filled in, parted as several spreadsheets do.
func TestPlainTable(t *testing.T) {
	for _, separator := range []string{",", ";", "\t"} {
		text := strings.ReplaceAll("# readings\nSAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0.05,0.06,0.08\nA2,,,\n\n\"A3\",1.20,0.10,0.09\n", ",", separator)
		got, err := Read([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if l := got[0].List; len(l) != 2 || l[1].Names[0] != "A3" || *l[1].Density != [3]float64{1.2, 0.1, 0.09} || l[1].Line != 6 {
			t.Errorf("%q: %+v", separator, l)
		}
	}
}

func TestKeywords(t *testing.T) {
	head := func(k string) string {
		return "CGATS.17\n" + k + "\nBEGIN_DATA_FORMAT\nSAMPLE_ID D_RED D_GREEN D_BLUE XYZ_X XYZ_Y XYZ_Z\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 1 1 1 0.9 0.95 0.8\nEND_DATA\n"
	}
	for said, want := range map[string]string{`FILTER "Status T"`: "T", "STATUS E": "E", `DENSITY_STATUS "ISO Status A"`: "A", "FILTER M0": ""} {
		got, err := Read([]byte(head(said)))
		if err != nil || got[0].Status != want {
			t.Errorf("%s: %v, %+v", said, err, got)
		}
		if err == nil && (*got[0].List[0].XYZ != [3]float64{90, 95, 80} || len(got[0].Notes) != 1) {
			t.Errorf("XYZ %v, %v", got[0].List[0].XYZ, got[0].Notes)
		}
	}
	if got, err := Read([]byte(head(`WHITE_BASE "PAPER"`))); err != nil || !got[0].FromPaper {
		t.Errorf("%v, %+v", err, got)
	}
}

// What is wrong is named with its line and with what to do.
func TestFaults(t *testing.T) {
	good := func(change ...string) string {
		return strings.NewReplacer(change...).Replace("CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 2\nBEGIN_DATA\nA1 50 1 2\nA2 60 3 4\nEND_DATA\n")
	}
	if _, err := Read([]byte(good())); err != nil {
		t.Fatal(err)
	}
	wide := func(change ...string) string {
		field := each(func(nm int) string { return fmt.Sprintf("SPECTRAL_NM%d", nm) })
		values := each(func(nm int) string { return fmt.Sprint(share(nm)) })
		return strings.NewReplacer(change...).Replace(fmt.Sprintf(spectra, 18, field, values, values))
	}
	for _, c := range []struct{ text, line, says string }{
		{"", "line 1", "no data"},
		{"\x00\x01", "line 1", "no plain text"},
		{"hello world\n1 2\n", "line 1", "neither CGATS text nor a table"},
		{good("NUMBER_OF_SETS 2", "NUMBER_OF_SETS 3"), "line 6", "says 3, but 2"},
		{good("NUMBER_OF_FIELDS 4", "NUMBER_OF_FIELDS 5"), "line 2", "says 5, but 4"},
		{good("NUMBER_OF_SETS 2", "NUMBER_OF_SETS two"), "line 6", "no number"},
		{good("A2 60 3 4", "A2 60 3"), "line 9", "3 values for 4 fields"},
		{good("A2 60 3 4", "A2, 60, 3, 4, 5"), "line 9", "commas between"},
		{good("A2 60 3 4", "A2 60,5 3 4"), "line 9", "comma for the decimals"},
		{good("A2 60 3 4", "A2 NaN 3 4"), "line 9", "no number"},
		{good("A2 60 3 4", "A2 Inf 3 4"), "line 9", "no number"},
		{good("A2 60 3 4", "A2 600 3 4"), "line 9", "no colour of a print"},
		{good("A2 60 3 4", "\"A2 60 3 4"), "line 9", "quote is not closed"},
		{good("END_DATA\n", ""), "line 7", "END_DATA is missing"},
		{good("END_DATA_FORMAT\n", ""), "line 6", "before END_DATA_FORMAT"},
		{good("SAMPLE_ID", "PATCH_KIND"), "line 3", "no field names the patch"},
		{good(" LAB_B", " LAB_C"), "line 3", "LAB_B is missing"},
		{good(" LAB_B", " LAB_A"), "line 3", "stands twice"},
		{good("LAB_L LAB_A LAB_B", "CMYK_C CMYK_M CMYK_Y"), "line 3", "no field holds what was measured"},
		{wide("NM400", "NM4000"), "line 8", "no wavelength of light"},
		{wide("NM420", "NM400"), "line 8", "stands twice"},
		{wide("NM700", "NM690"), "line 8", "they must reach from 400 to 700"},
		{wide("NM500", "NM505", "NM520", "NM520"), "line 8", "between 480 and 505"},
		{wide("NM500", "DEC500", "NM520", "PCT520"), "line 8", "some as shares"},
		{wide("0.6\t", "1.7\t"), "line 13", "no unit that is known"},
		{wide("0.6\t", "-0.6\t"), "line 13", "negative"},
		{wide("0.6\t", "0,6\t"), "line 13", "comma for the decimals"},
		{"SAMPLE_ID;D_RED;D_GREEN;D_BLUE\nA1;0,05;0,06;0,08\n", "line 2", "comma for the decimals"},
		{"SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0,05,0,06,0,08\n", "line 2", "commas may stand for decimals"},
		{"SAMPLE_ID\tD_RED\tD_GREEN\tD_BLUE\nA1\t0.05\t\t0.08\n", "line 2", "is empty"},
		{"SAMPLE_ID\tD_RED\tD_GREEN\tD_BLUE\nA1\t\t\t\n", "line 1", "no row"},
		{"SAMPLE_ID\tD_RED\tD_GREEN\tD_BLUE\nA1\t9\t1\t1\n", "line 2", "a density of 9"},
		{"STATUS StatusM\n" + good(), "line 1", "are not known"},
		{"ILLUMINANT \"D65, 10 degree\"\n" + good(), "line 1", "2° observer"},
	} {
		_, err := Read([]byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.line+":") || !strings.Contains(err.Error(), c.says) {
			t.Errorf("want %s, “%s”; got %v\n%s", c.line, c.says, err, c.text)
		}
	}
}

// Nothing that is read makes the reader panic, and what it takes is whole.
func FuzzRead(f *testing.F) {
	field := each(func(nm int) string { return fmt.Sprintf("SPECTRAL_NM%d", nm) })
	values := each(func(nm int) string { return fmt.Sprint(share(nm)) })
	f.Add(fmt.Sprintf(spectra, 18, field, values, values))
	f.Add("SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0.05,0.06,0.08\n")
	f.Add("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 50 1 2\nEND_DATA\n")
	f.Add("BEGIN_DATA_FORMAT\nSAMPLE_ID SPECTRAL_NM SPECTRAL_PCT\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 500 20\nEND_DATA\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Read([]byte(text))
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") {
				t.Errorf("%v", err)
			}
			return
		}
		for _, r := range got {
			for _, one := range r.List {
				if len(one.Names) != len(r.Named) || len(one.Spectrum) != len(r.Wavelengths) {
					t.Errorf("%+v", one)
				}
				for _, v := range one.Spectrum {
					if !(v >= 0 && v <= mostReflectance) {
						t.Errorf("reflectance %g", v)
					}
				}
			}
		}
	})
}
