package testplan

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/testsheet"
)

// Every patch of the sheet stands on its plan once, and the page says what can hurt.
func TestPlanShowsEveryPatch(t *testing.T) {
	p, _ := pigment.PaletteByID("chrome")
	p.Name = "Chrome <b>& co"
	s := testsheet.Of(p)
	var out bytes.Buffer
	if err := Of(s, p, []string{"Lies so."}, nil, label.Now()).Write(&out); err != nil {
		t.Fatal(err)
	}
	root, err := html.Parse(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == "b" && n.FirstChild != nil && n.Parent.Data == "td" {
			id, _, _ := strings.Cut(n.FirstChild.Data, " ")
			seen[id]++
		}
	}
	for _, patch := range s.Patches {
		if seen[patch.ID] != 1 {
			t.Errorf("patch %s stands %d times on the plan", patch.ID, seen[patch.ID])
		}
	}
	text := out.String()
	for _, want := range []string{"UV lamps", "Dichromates", "safety data sheets", "TOXIC", "Lies so.", "Chrome &lt;b&gt;&amp; co", "seed 1931"} {
		if !strings.Contains(text, want) {
			t.Errorf("no “%s” on the page", want)
		}
	}
	if rows := strings.Count(string(Table(s)), "\n"); rows < len(s.Patches) {
		t.Errorf("the table for readings has %d rows", rows)
	}
}
