package testplan

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"threeply/proof/cgats"
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
	if rows := strings.Count(string(Table(s, p, label.Made{})), "\n"); rows < len(s.Patches) {
		t.Errorf("the table for readings has %d rows", rows)
	}
}

// The table says of which sheet it is, and what was typed into it is read all the same.
func TestTableIsRead(t *testing.T) {
	p := pigment.Palettes()[0]
	s := testsheet.Of(p)
	text := string(Table(s, p, label.Made{Tool: "Threeply v1"}))
	if !strings.HasPrefix(text, "\ufeff# test sheet "+s.Code()+" of the palette "+p.ID+" (places by seed") {
		t.Errorf("the table begins %.80q", text)
	}
	filled := strings.Replace(text, s.Patches[0].ID+",,,", s.Patches[0].ID+",0.82,0.75,0.91", 1)
	tables, err := cgats.Parse([]byte(filled))
	if err != nil || len(tables) != 1 || len(tables[0].Sets) != 1 {
		t.Errorf("read back it is %+v (%v)", tables, err)
	}
}
