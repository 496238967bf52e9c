package setter

import (
	"fmt"
	"math"
	"time"

	"threeply/proof/export"
	"threeply/proof/film"
	"threeply/proof/label"
	"threeply/proof/lettering"
	"threeply/proof/negative"
	"threeply/proof/sheet"
)

// The film's own wedge: patches of equal steps of code, from clear film on, in rows.
const (
	ownPatches = 21
	ownRow     = 7
	ownSide    = 14.0 // mm, wide enough for any instrument's aperture
	ownAbove   = 6.0  // mm, for the patch's numeral
)

// OwnWedge is the film's own wedge, of 21 patches with their share of ink in % beside
// them, on film that is made as setup says. Printed on one tissue beside a step tablet it
// tells the film's UV density; see film.ReadByTablet. Its codes are those of the file,
// whatever is known of the film. Emulsion or base to the tissue as setup has it, it reads
// right on its first support.
func OwnWedge(setup negative.Setup, made label.Made) (sheet.TIFF, error) {
	setup.Marks = false
	w, h := ownRow*ownSide, ownPatches/ownRow*(ownSide+ownAbove)
	mirrored := setup.Side == negative.Base // one transfer: its negatives are reversed
	f := &Frame{Layout: negative.Of(setup, w, h, mirrored)}
	f.notch(setup)
	for i := range ownPatches {
		if err := f.ownPatch(i); err != nil {
			return sheet.TIFF{}, err
		}
	}
	lines := []string{
		"ink in %; beside a step tablet on one tissue",
		setup.SideName() + " to the tissue: this reads right from the lamp",
		"100 %, no colour management · " + made.At.Format(time.DateOnly),
	}
	if err := f.label(setup, Label{Name: "film's wedge", Lines: lines}); err != nil {
		return sheet.TIFF{}, err
	}
	about := fmt.Sprintf("The film's own wedge: %d patches, from clear film (code %d) to the densest (code 0) in equal steps of code, with their share of ink in %% beside them. No profile is embedded, so that no program converts it. Made by %s at %s.", ownPatches, film.Codes-1, made.Tool, made.Time())
	return sheet.TIFF{
		W: f.W, H: f.H, Samples: 1, PPI: f.PPI, Row: f.Row,
		Description: export.Plain(about), Words: sheet.Words{Name: "Film's wedge", Software: export.Plain(made.Tool), At: made.At},
	}, nil
}

// ownPatch draws patch i and its numeral.
func (f *Frame) ownPatch(i int) error {
	ink := float64(i) / (ownPatches - 1)
	numeral, err := lettering.Text(fmt.Sprintf("%.0f", 100*ink), lettering.Bold, float64(f.px(0.7*ownAbove)))
	if err != nil {
		return err
	}
	at := func(mm float64) int { return int(math.Round(mm * f.PPI / 25.4)) }
	column, row := float64(i%ownRow), float64(i/ownRow)
	top := f.Trim.Y0 + at(row*(ownSide+ownAbove))
	patch := box(f.Trim.X0+at(column*ownSide), top+at(ownAbove), f.Trim.X0+at((column+1)*ownSide), top+at(ownAbove+ownSide))
	if f.Mirrored {
		patch.X0, patch.X1 = f.W-patch.X1, f.W-patch.X0
	}
	f.add(patch, uint16(math.Round((film.Codes-1)*(1-ink))), nil)
	f.print(numeral, (patch.X0+patch.X1-numeral.Rect.Dx())/2, top, clearFilm, f.Mirrored)
	return nil
}
