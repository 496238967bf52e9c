package intake

import (
	"testing"

	"threeply/proof/plate"
)

func TestTitleOfFileNames(t *testing.T) {
	for _, c := range []struct {
		files [3]string
		want  string
	}{
		{[3]string{"scan001.tif", "scan002.tif", "scan003.tif"}, "scan"},
		{[3]string{"scan009.tif", "scan010.tif", "scan011.tif"}, "scan"},
		{[3]string{"harbour_at_dusk-red.tif", "harbour_at_dusk-green.tif", "harbour_at_dusk-blue.tif"}, "harbour at dusk"},
		{[3]string{"harbourRed.png", "harbourGreen.png", "harbourBlue.png"}, "harbour"},
		{[3]string{"quay-blue.tif", "quay-bluegreen.tif", "quay-black.tif"}, "quay"},
		{[3]string{"P1050_r.tif", "P1050_g.tif", "P1050_b.tif"}, "P1050"},
		{[3]string{"plate (1).tif", "plate (2).tif", "plate (3).tif"}, "plate"},
		{[3]string{"/home/a/plates/mill red.tif", "/home/a/plates/mill green.tif", "/home/a/plates/mill blue.tif"}, "mill"},
		{[3]string{`C:\plates\mill red.tif`, `C:\plates\mill green.tif`, `C:\plates\mill blue.tif`}, "mill"},
		{[3]string{"two plates.tif", "two plates.tif", "two plates.tif"}, "two plates"},
		{[3]string{"müller_rot.tif", "müller_grün.tif", "müller_blau.tif"}, "müller"},
		{[3]string{"tu\u0308r-rot.tif", "tu\u0308r-blau.tif", "tu\u0308r-gelb.tif"}, "tu\u0308r"},
		{[3]string{"é1.tif", "è1.tif", "ê1.tif"}, "Untitled"},
		{[3]string{"red.tif", "green.tif", "blue.tif"}, "Untitled"},
		{[3]string{"scanr.tif", "scang.tif", "scanb.tif"}, "Untitled"},
		{[3]string{"01.tif", "02.tif", "03.tif"}, "Untitled"},
		{[3]string{"_.tif", "-.tif", ".tif"}, "Untitled"},
	} {
		set := &plate.Set{}
		for i, name := range c.files {
			set.Sources[i].Name = name
		}
		if got := titleOf(set); got != c.want {
			t.Errorf("%q: %q, want %q", c.files, got, c.want)
		}
	}
}
