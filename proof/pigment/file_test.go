package pigment

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func own() Palette {
	p, _ := PaletteByID("earth")
	p.ID, p.Name = "own-earth", "Our earth, 2nd coat"
	p.Yellow.Load, p.Magenta.Load, p.Cyan.Load = 1, 1, 1.25
	hold := 2.0
	p.Cyan.Hardening = Hardening{9.5, 3, &hold, []Printed{{0, 4}, {1, 20}}}
	return p
}

func TestPaletteFileRoundTrip(t *testing.T) {
	for _, p := range append(Palettes(), own()) {
		text, err := p.Write()
		if err != nil {
			t.Fatal(err)
		}
		back, err := Read(text)
		if err != nil || !back.Same(p) {
			t.Errorf("%s comes back as %+v: %v", p.ID, back, err)
		}
	}
}

func TestReadSaysLineAndReason(t *testing.T) {
	text, err := own().Write()
	if err != nil {
		t.Fatal(err)
	}
	good := string(text)
	line := func(part string) string {
		return fmt.Sprintf("line %d: ", 1+strings.Count(good[:strings.Index(good, part)], "\n"))
	}
	next := func(line string) string {
		n := 0
		fmt.Sscanf(line, "line %d: ", &n)
		return fmt.Sprintf("line %d: ", n+1)
	}
	for _, c := range []struct{ old, new, line, reason string }{
		{`"PG18"`, `"PG99"`, line(`"PG18"`), "PG99"},
		{`"PG18"`, `"PB27"`, line(`"PG18"`), "twice"},
		{`0.6`, `0.7`, next(line(`"cyan"`)), "sum to 1.1"},
		{`0.6`, `-0.6`, line(`0.6`), "share of -0.6"},
		{`0.6`, `"much"`, line(`0.6`), "cannot be a string"},
		{`1.25`, `125`, line(`1.25`), "125 is out of bounds; give 0.05 to 10"},
		{`"load": 1.25`, `"loda": 1.25`, line(`1.25`), "nothing is called “loda”"},
		{`"historic"`, `"ancient"`, line(`"historic"`), "no era"},
		{`"own-earth"`, `"Own Earth"`, line(`"own-earth"`), "no id"},
		{`"own-earth"`, `"earth"`, line(`"own-earth"`), "built-in"},
		{`"cyan"`, `"cyam"`, line(`"cyan"`), "nothing is called “cyam”"},
		{`"load": 1.25`, `"Load": 1.25`, line(`1.25`), "nothing is called “Load”"},
		{`"share": 0.6`, `"share": 0.6, "note": "x"`, line(`0.6`), "nothing is called “note”"},
		{`"version": 5`, `"version": 6`, line(`"version"`), "version 6 is not supported"},
		{`"version": 5`, `"version": 0`, line(`"version"`), "version 0 is not supported"},
		{`"threeply": "palette"`, `"threeply": "session"`, "line 1: ", "no palette file"},
		{`1.25,`, `1.25;`, line(`1.25`), "not JSON"},
	} {
		bad := strings.Replace(good, c.old, c.new, 1)
		if bad == good {
			t.Fatalf("%s is not in the file", c.old)
		}
		_, err := Read([]byte(bad))
		if err == nil || !strings.Contains(err.Error(), c.reason) || !strings.HasPrefix(err.Error(), c.line) {
			t.Errorf("%s for %s: %v, want %s… %s", c.new, c.old, err, c.line, c.reason)
		}
	}
	for _, cut := range []int{0, 1, 50, len(good) / 2, len(good) - 3} {
		if _, err := Read(text[:cut]); err == nil || !strings.HasPrefix(err.Error(), "line ") {
			t.Errorf("cut at %d: %v", cut, err)
		}
	}
	i := strings.Index(good, `    "magenta"`)
	j := strings.Index(good, `    "cyan"`)
	if _, err := Read([]byte(good[:i] + good[j:])); err == nil || !strings.Contains(err.Error(), "the magenta tissue is missing") {
		t.Errorf("without magenta: %v", err)
	}
}

// Nothing stands for an amount that is not given: a haze of 0 is another tissue.
func TestReadRefusesWhatIsMissing(t *testing.T) {
	text, err := own().Write()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path []string
		says string
	}{
		{[]string{"cyan", "haze"}, "haze is missing"}, {[]string{"yellow", "load"}, "load is missing"},
		{[]string{"magenta", "coatMicron"}, "coatMicron is missing"}, {[]string{"cyan", "pigments"}, "the pigments are missing"},
		{[]string{"cyan"}, "the cyan tissue is missing"}, {[]string{"id"}, "the id is missing"}, {[]string{"name"}, "give a name"},
	} {
		for _, null := range []bool{false, true} {
			var f map[string]any
			if err := json.Unmarshal(text, &f); err != nil {
				t.Fatal(err)
			}
			at := f["palette"].(map[string]any)
			for _, key := range c.path[:len(c.path)-1] {
				at = at[key].(map[string]any)
			}
			last := c.path[len(c.path)-1]
			delete(at, last)
			if null {
				at[last] = nil
			}
			bad, err := json.MarshalIndent(f, "", " ")
			if err != nil {
				t.Fatal(err)
			}
			place := `"palette"`
			if len(c.path) > 1 {
				place = `"` + c.path[0] + `"`
			}
			if null {
				place = `"` + last + `": null`
			}
			line := fmt.Sprintf("line %d: ", 1+strings.Count(string(bad[:bytes.Index(bad, []byte(place))]), "\n"))
			if _, err := Read(bad); err == nil || !strings.HasPrefix(err.Error(), line) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v, null %v: %v, want %s… %s", c.path, null, err, line, c.says)
			}
		}
	}
	for text, want := range map[string]string{
		"[]": "no palette file", "7": "no palette file",
		`{"threeply":"palette","version":1,"palette":{"yellow":{"load":[1]}}}`: "cannot be an array",
	} {
		if _, err := Read([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

// Other tools put a mark of the byte order before the text.
func TestReadAfterByteOrderMark(t *testing.T) {
	text, err := own().Write()
	if err != nil {
		t.Fatal(err)
	}
	if back, err := Read(append([]byte("\ufeff"), text...)); err != nil || !back.Same(own()) {
		t.Errorf("%+v: %v", back, err)
	}
}

// Characters are counted, not the bytes that they take.
func TestNamesOfAllScripts(t *testing.T) {
	for name, good := range map[string]bool{
		strings.Repeat("紙", 31): true, strings.Repeat("紙", 80): true, strings.Repeat("é", 81): false, "": false,
	} {
		p := own()
		p.Name = name
		if err := p.Check(); (err == nil) != good {
			t.Errorf("%d characters: %v", len([]rune(name)), err)
		}
	}
}

// The published schema and the reader must name the same things and limits.
func TestSchemaIsTheReader(t *testing.T) {
	var s map[string]any
	if err := json.Unmarshal(Schema, &s); err != nil {
		t.Fatal(err)
	}
	get := func(v any, path ...string) any {
		for _, p := range path {
			m, ok := v.(map[string]any)
			if !ok || m[p] == nil {
				t.Fatalf("the schema has no %v", path)
			}
			v = m[p]
		}
		return v
	}
	tissue := get(s, "$defs", "tissue", "properties")
	for key, want := range map[string][2]float64{"load": {LeastLoad, MostLoad}, "haze": {LeastHaze, MostHaze}, "coatMicron": {LeastCoat, MostCoat}} {
		if get(tissue, key, "minimum") != want[0] || get(tissue, key, "maximum") != want[1] {
			t.Errorf("%s: limits of the schema differ from %v", key, want)
		}
	}
	for key, want := range map[string][2]float64{"depthMicron": {LeastDepth, MostDepth}, "threshold": {LeastThreshold, MostThreshold}, "holdOnMicron": {LeastHoldOn, MostHoldOn}} {
		of := get(tissue, "hardening", "properties", key).(map[string]any)
		if of["minimum"] != want[0] || of["maximum"] != want[1] {
			t.Errorf("%s: limits of the schema differ from %v", key, want)
		}
	}
	for key, want := range map[string][2]float64{"dose": {LeastDose, MostDose}, "left": {LeastLeft, MostLeft}} {
		of := get(tissue, "faded", "properties", key).(map[string]any)
		if of["minimum"] != want[0] || of["maximum"] != want[1] {
			t.Errorf("%s: limits of the schema differ from %v", key, want)
		}
	}
	if get(tissue, "hardening", "properties", "wedge", "maxItems") != float64(mostSteps) {
		t.Error("the number of steps differs")
	}
	if get(tissue, "pigments", "maxItems") != float64(mostPigments) || !reflect.DeepEqual(get(s, "properties", "version", "enum"), []any{1.0, 2.0, 3.0, 4.0, float64(Version)}) {
		t.Error("number of pigments or version differs")
	}
	if get(s, "properties", "palette", "properties", "id", "pattern") != idPattern {
		t.Error("the form of ids differs")
	}
	if get(s, "properties", "palette", "properties", "name", "maxLength") != float64(MostLetters) {
		t.Error("the length of names differs")
	}
	for what, want := range map[string][]any{"palette": get(s, "properties", "palette", "required").([]any), "tissue": get(s, "$defs", "tissue", "required").([]any)} {
		of := map[string]any{"palette": Palette{}, "tissue": Tissue{}}[what]
		b, _ := json.Marshal(of)
		var all map[string]any
		if err := json.Unmarshal(b, &all); err != nil || len(all) != len(want) {
			t.Errorf("%s: the schema asks for %v of %v", what, want, keys(all))
		}
	}
	form := regexp.MustCompile(idPattern)
	for _, id := range []string{"", "a", "A", "-a", "a-", "own earth", "é", strings.Repeat("x", 40), strings.Repeat("x", 41), "7"} {
		if validID(id) != form.MatchString(id) {
			t.Errorf("%q: the check says %v, the pattern %v", id, validID(id), form.MatchString(id))
		}
	}
	all := measured()
	all.Measured.Expected = 1
	text, err := all.Write()
	if err != nil {
		t.Fatal(err)
	}
	var written map[string]any
	if err := json.Unmarshal(text, &written); err != nil {
		t.Fatal(err)
	}
	for what, pair := range map[string][2]any{
		"file":        {written, get(s, "properties")},
		"palette":     {written["palette"], get(s, "properties", "palette", "properties")},
		"tissue":      {get(written, "palette", "cyan"), tissue},
		"hardening":   {get(written, "palette", "cyan", "hardening"), get(tissue, "hardening", "properties")},
		"measurement": {get(written, "palette", "measured"), get(s, "properties", "palette", "properties", "measured", "properties")},
		"faded":       {get(written, "palette", "cyan", "faded"), get(tissue, "faded", "properties")},
		"seen":        {get(written, "palette", "measured", "seen"), get(s, "properties", "palette", "properties", "measured", "properties", "seen", "properties")},
		"seen layer":  {get(written, "palette", "measured", "seen", "cyan"), get(s, "$defs", "seenLayer", "properties")},
		"spectra":     {get(written, "palette", "cyan", "measured"), get(tissue, "measured", "properties")},
		"step":        {get(written, "palette", "cyan", "hardening", "wedge").([]any)[0], get(tissue, "hardening", "properties", "wedge", "items", "properties")},
		"pigment":     {get(written, "palette", "cyan").(map[string]any)["pigments"].([]any)[0], get(tissue, "pigments", "items", "properties")},
	} {
		if a, b := keys(pair[0]), keys(pair[1]); !slices.Equal(a, b) {
			t.Errorf("%s: written %v, schema %v", what, a, b)
		}
	}
}

func keys(v any) []string {
	var all []string
	for k := range v.(map[string]any) {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

func FuzzRead(f *testing.F) {
	text, err := own().Write()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"threeply":"palette","version":1,"palette":null}`))
	f.Add(bytes.Repeat([]byte("["), 100))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read(text)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") {
				t.Fatalf("no line: %v", err)
			}
			return
		}
		if err := p.Check(); err != nil {
			t.Fatalf("reads an unsound palette: %v", err)
		}
	})
}
