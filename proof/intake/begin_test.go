package intake

import (
	"strings"
	"testing"

	"threeply/proof/plate"
)

func TestBeginSaysWhatIsWrongWithAScan(t *testing.T) {
	set := &plate.Set{Assign: [3]int{0, 1, 2}, Split: true}
	for i := range set.Sources {
		set.Sources[i] = plate.Source{Name: "a.tif", W: 10, H: 10, Pictures: 1, Polarity: plate.Negative}
	}
	set.Sources[0].Pictures = 3
	set.Sources[1].Scan.Clipped = [2]float64{0.002, 0.04}
	set.Sources[2].Scan.Clipped = [2]float64{0.2, 0}
	set.Sources[0].Remarks = []string{"its last row is short"}
	s := Begin(set)
	if got := s.Sources[0].Remarks; len(got) != 2 || got[1] != "its last row is short" {
		t.Errorf("what the reader remarked is lost: %q", got)
	}
	s.Sources[0].Remarks = s.Sources[0].Remarks[:1]
	for i, want := range []string{"3 pictures", "4 % of the picture is clipped at the scanner’s black", "20 % of the picture is clipped at the scanner’s clear"} {
		if got := s.Sources[i].Remarks; len(got) != 1 || !strings.Contains(got[0], want) {
			t.Errorf("source %d: %q, want %q", i, got, want)
		}
	}
	if !s.Split {
		t.Error("that the plates disagree about their polarity is lost")
	}
}
