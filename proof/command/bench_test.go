package command

import (
	"strings"
	"testing"

	"threeply/proof/film"
	"threeply/proof/negative"
	"threeply/proof/session/sessiontest"
	"threeply/proof/workshop"
)

// What is not named stays, and undo brings back what was there.
func TestNegativesAreSetPieceByPiece(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	ppi, side := 720.0, negative.Base
	for _, c := range []Command{
		Negatives{PPI: &ppi}, Negatives{Side: &side},
		PrintingFilm{Kind: film.Inkjet, Table: "0 0\n50 0.9\n100 2.4\n"},
	} {
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
	}
	got := h.Setup()
	if got.PPI != 720 || got.Side != negative.Base || got.SafeEdge != negative.Usual.SafeEdge || got.Film.Max != 2.4 || got.Film.Measured != film.UV {
		t.Errorf("%+v", got)
	}
	for range 3 {
		if err := h.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if h.Negatives != nil {
		t.Errorf("undone to %+v", h.Negatives)
	}
}

func TestBenchRefuses(t *testing.T) {
	thin, cold := 2.0, workshop.Usual
	cold.Process.Most = 33
	odd := "a9"
	for says, c := range map[string]Command{
		"safe edge is 2":              Negatives{SafeEdge: &thin},
		"“a9” is no film sheet":       Negatives{Sheet: &odd},
		"line 2: the density falls":   PrintingFilm{Kind: film.Silver, Measured: film.Visual, Table: "0 1\n50 0.9\n100 2.4\n"},
		"2 steps":                     PrintingFilm{Kind: film.Silver, Table: "0 1\n100 2"},
		"in the UV alone":             PrintingFilm{Kind: film.Inkjet, Measured: film.Status, Table: "0 0\n50 0.9\n100 2.4\n"},
		"largest UV density":          PrintingFilm{Kind: film.Inkjet, Max: 9},
		"development begins at 40 °C": Workshop{Workshop: &cold},
	} {
		h := NewHistory(sessiontest.Opened())
		if err := h.Do(c, ""); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v: %v, want %q", c, err, says)
		}
		if h.Negatives != nil || h.Workshop != nil {
			t.Errorf("%+v was refused and left its mark", c)
		}
	}
}
