package model

import (
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/wasm/page/view"
)

// Above every picture of a print, in every look, stands what it is of: palette, order, paper,
// surface, light and room; and which layer is hidden.
func TestCaptionsSayWhatTheyAreOf(t *testing.T) {
	d := patches(t)
	d.View.Resize(view.Stage{W: 1400, H: 800, Ratio: 1})
	s := d.Session
	s.Paper, s.Finish, s.Hidden[pigment.Magenta] = "rag", "matt", true
	d.take(s)
	d.look(view.ShowCut{On: true}) // the board shows none of the pictures that the line lies in
	palette, _ := s.PaletteByID(s.Palette)
	paper, _ := s.PaperByID(s.Paper)
	for _, look := range view.Looks {
		d.look(view.TakeLook{ID: look.ID})
		if look.ID == "blink" {
			d.look(view.Blink{}) // from the reference to the print
		}
		seen := 0
		m := d.maker.Make(d.Input)
		if m.Line != nil && m.Line.Frames == nil {
			t.Errorf("%s: the section's line lies in nothing that scripts can go through", look.ID)
		}
		for _, f := range m.Frames {
			if !f.Estimate {
				continue
			}
			seen++
			wants := []string{"Y\u00a0M\u00a0C", paper.Name, "Matt", "Daylight D50"}
			if f.ID != "other" {
				wants = append(wants, palette.Name)
			}
			if look.ID != "rooms" {
				wants = append(wants, "bench")
			}
			for _, want := range wants {
				if words := m.Shared + f.Note; !strings.Contains(words, want) {
					t.Errorf("%s: above “%s” stands “%s”, without %q", look.ID, f.Label, words, want)
				}
			}
			if look.ID != "layer" && f.Without != "without magenta" {
				t.Errorf("%s: above “%s” the hidden layer is not said: “%s”", look.ID, f.Label, f.Without)
			}
		}
		if of := map[string]bool{"print": true, "marked": true, "pairs": true}; of[look.Of] && seen == 0 {
			t.Errorf("%s: no estimate is shown", look.ID)
		}
	}
}
