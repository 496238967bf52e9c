package view

import (
	"slices"
	"strings"
	"testing"
)

// What stands in fields is kept over a reload, as far as it is known and can stand there.
func TestFilledIsKept(t *testing.T) {
	v, s := looking(t, "beside")
	do := func(id, text string) error { return v.Do(Fill{id, text}, Subject{s, &Residual{}}) }
	table := strings.Repeat("0.05\t1.62\n", 12)
	for id, text := range map[string]string{"proof.file": "tiff", "wedge.cyan.table": table, "strip.layer": "yellow", "paper.name": "Bütten", "scan.points": "sheet.tif\n10\n1 2", "pigment.cyan": "PB27"} {
		if err := do(id, text); err != nil {
			t.Fatal(err)
		}
	}
	again := New()
	if err := again.Recall(v.Keep(), s); err != nil {
		t.Fatal(err)
	}
	whole := again.Filled.Whole()
	for id, want := range map[string]string{
		"proof.file": "tiff", "wedge.cyan.table": table, "strip.layer": "yellow", "paper.name": "Bütten", "scan.points": "sheet.tif\n10\n1 2", "pigment.cyan": "PB27", "pigment.yellow": "",
		"proof.cut": "picture", "coats.layer": "cyan", "wedge.yellow.load": "yes", "film.table": "",
	} {
		if got, ok := whole[id]; !ok || got != want {
			t.Errorf("%s holds %q, want %q", id, got, want)
		}
	}
	if len(whole) != len(Fields) {
		t.Errorf("%d fields of %d", len(whole), len(Fields))
	}
	later := strings.Replace(string(v.Keep()), `"text":"tiff"`, `"text":"hologram"},{"id":"proof.era","text":"later"`, 1)
	if err := again.Recall([]byte(later), s); err != nil || len(again.Filled) != 5 || again.Filled.Whole()["proof.file"] != "png" {
		t.Errorf("what a newer page kept: %v, %v", again.Filled, err)
	}
	if err := do("proof.file", "png"); err != nil || len(v.Filled) != 5 {
		t.Errorf("as a newcomer finds it: %v, %v", v.Filled, err)
	}
}

func TestFieldsRefuse(t *testing.T) {
	v, s := looking(t, "beside")
	before := slices.Clone(v.Filled)
	for id, c := range map[string]struct{ text, want string }{
		"proof.file": {"hologram", "none of its choices"}, "no.such": {"x", "no field “no.such”"},
		"film.table": {strings.Repeat("9", mostTable+1), "save a longer table as a file"},
	} {
		if err := v.Do(Fill{id, c.text}, Subject{s, &Residual{}}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want “…%s…”", id, err, c.want)
		}
	}
	if !slices.Equal(v.Filled, before) {
		t.Errorf("something was filled in: %v", v.Filled)
	}
}
