package model

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"threeply/proof/picture"
	"threeply/proof/strict"
	"threeply/wasm/page/prints"
)

// board is the board of the patches, sorted by something.
func (d *given) board(by string, falling bool) *Board {
	d.View.Look, d.View.Board.By, d.View.Board.Falling = "board", by, falling
	return d.maker.Make(d.Input).Board
}

func ids(cards []Card) (out []string) {
	for _, c := range cards {
		out = append(out, c.ID)
	}
	return out
}

// TestBoard tells the board of three small prints whose figures are made up, and holds the order
// of the cards and their words to them.
func TestBoard(t *testing.T) {
	d := patches(t)
	b := d.board("kind", false)
	listed := ids(b.Cards)
	n := len(listed)
	if !strings.HasPrefix(b.Says, "0 of ") || b.Cards[0].Three != "…" || b.Cards[0].Printed || len(b.Cards[0].Figures) != 0 {
		t.Errorf("before a print: %q, %+v", b.Says, b.Cards[0])
	}
	if b.Cards[0].Group != "Modern" || slices.IndexFunc(b.Cards, func(c Card) bool { return c.Group == "Historic" }) < 1 {
		t.Errorf("groups: %q first", b.Cards[0].Group)
	}

	for _, c := range b.Cards {
		named := strings.Contains(c.Lasts, "ASTM") && strings.Contains(c.Lasts, "blue wool")
		if !named || !strings.Contains(c.Lasts, "years") {
			t.Errorf("%s: its permanence is %q", c.ID, c.Lasts)
		}
	}

	chosen := slices.Index(listed, d.Session.Palette)
	others := slices.DeleteFunc([]int{0, 1, 2, 3}, func(i int) bool { return i == chosen })
	first, second := others[0], others[1]
	told := map[int]picture.Tried{
		chosen: {Lab: [3]float64{15, 0, 0}, Density: 1.7, Full: [3]float64{9, 1, 1}, DriftA: 2, Volume: 300e3, Least: 4, Most: 6, Measured: picture.Measured{Mean: 5, P95: 9, Beyond: 0.05}},
		first:  {Lab: [3]float64{9, 0, 0}, Density: 1.95, Full: [3]float64{9, -6, 3}, InA: [3]float64{9, 6, 3}, DriftA: 1, Volume: 200e3, Least: 6.5, Most: 8, Measured: picture.Measured{Mean: 7, P95: 8, Beyond: 0}},
		second: {Lab: [3]float64{30, 0, 0}, Density: 1.2, Full: [3]float64{9, 0, 0}, Even: true, DriftA: 3, Volume: 100e3, Least: 4.8, Most: 7, Note: "no masks do it", Measured: picture.Measured{Mean: 6.5, P95: 7, Beyond: 0.2}},
	}
	for i, figures := range told {
		d.Prints.Tries.Take(b.Cards[i].Key, prints.Try{Figures: figures})
	}
	d.Prints.Tries.Take(b.Cards[n-1].Key, prints.Try{Why: "memory was refused"})

	for _, c := range []struct {
		by      string
		falling bool
		want    []int
	}{
		{"L", false, []int{first, chosen, second}}, {"L", true, []int{second, chosen, first}}, {"density", false, []int{second, chosen, first}},
		{"tint", true, []int{first, chosen, second}}, {"driftA", false, []int{first, chosen, second}}, {"volume", false, []int{second, first, chosen}},
		{"beyond", true, []int{second, chosen, first}}, {"mean", false, []int{chosen, second, first}}, {"p95", false, []int{second, first, chosen}},
	} {
		got := ids(d.board(c.by, c.falling).Cards)
		for i, at := range c.want {
			if got[i] != listed[at] {
				t.Errorf("by %s, falling %v: %v stand first, want %q as number %d", c.by, c.falling, got[:3], listed[at], i)
			}
		}
		if len(got) != n {
			t.Errorf("by %s: %d cards of %d", c.by, len(got), n)
		}
	}
	if names := d.board("name", false).Cards; !slices.IsSortedFunc(names, func(a, b Card) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) }) {
		t.Errorf("by name: %v", ids(names))
	}
	if got := d.board("era", false).Cards; got[0].Era != "historic" || got[0].Group != "Historic" || got[n-1].Era != "modern" {
		t.Errorf("by era: %v", ids(got))
	}
	if got := d.board("kind", true); !slices.Equal(ids(got.Cards), listed) {
		t.Errorf("as listed: %v, want %v", ids(got.Cards), listed)
	}

	d.Session.Hidden = [3]bool{false, true, true}
	cards := d.board("driftA", false)
	if want := "; all estimates; with magenta and cyan, lifted off elsewhere"; !strings.HasPrefix(cards.Says, "3 of ") || !strings.HasSuffix(cards.Says, want) {
		t.Errorf("the board says %q", cards.Says)
	}
	card := func(at int) Card {
		return cards.Cards[slices.IndexFunc(cards.Cards, func(c Card) bool { return c.ID == listed[at] })]
	}
	for _, c := range []struct {
		at                int
		three, near, note string
	}{
		{chosen, "black fair · colour nearly whole · ", "", ""},
		{first, "black deep · colour whole · ", "", ""},                                                                     // its mean varies from 6.5, the chosen one's up to 6
		{second, "no greys · colour reduced · ", "as near the reference as the chosen", "Printed unmasked: no masks do it"}, // from 4.8
		{n - 1, "…", "", "It could not be printed: memory was refused"},
	} {
		if got := card(c.at); !strings.HasPrefix(got.Three, c.three) || got.Near != c.near || got.Note != c.note {
			t.Errorf("%s: %q, %q, %q", got.ID, got.Three, got.Near, got.Note)
		}
	}
	var sorts []string
	for _, f := range card(first).Figures {
		if f.Sorts {
			sorts = append(sorts, f.Name+": "+f.Words)
		}
	}
	if want := []string{"lamp A: ΔE00 1.0, reddish"}; !slices.Equal(sorts, want) {
		t.Errorf("sorted by %q, want %q", sorts, want)
	}
}

// TestTriedIsReadStrictly holds what a worker writes of a small print to what the page reads.
func TestTriedIsReadStrictly(t *testing.T) {
	was := picture.Tried{Lab: [3]float64{15, 0.5, -1}, Density: 1.7, Note: "none", Measured: picture.Measured{Mean: 5, P95: 9}}
	text, err := json.Marshal(was)
	if err != nil {
		t.Fatal(err)
	}
	var got picture.Tried
	if err := strict.Read(text, &got); err != nil || got != was {
		t.Errorf("%+v, %v", got, err)
	}
	if err := strict.Read([]byte(`{"mean": 3}`), &got); err == nil {
		t.Error("figures that are not whole were taken")
	}
}
