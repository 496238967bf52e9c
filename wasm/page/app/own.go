package app

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"threeply/proof/origin"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/wasm/page/prints"
)

// What follows turns files and figures into palettes and papers of the user's own, as
// the commands takePalette and takePaper take them, and back into files. What reads says
// what is wrong and changes nothing.

// PaletteText is a palette as a file, "" for one that is not there.
func (a *App) PaletteText(id string) string {
	p, ok := a.PaletteByID(id)
	if !ok {
		return ""
	}
	out, _ := p.Write() // a session holds sound palettes only
	return string(out)
}

// ReadPalette reads the text of a palette's file.
func (a *App) ReadPalette(file, text string) (pigment.Palette, error) {
	p, err := pigment.Read([]byte(text))
	return p, a.unread(file, err)
}

// Origin tells what of the open set is original and what is interpretation; nothing where none is open.
func (a *App) Origin() []origin.Part {
	if len(a.State.Sources) == 0 {
		return nil
	}
	return origin.Parts(&a.State)
}

// PaperText is the spectrum of a paper as a file, "" for one that is not there.
func (a *App) PaperText(id string) string {
	p, ok := a.PaperByID(id)
	if !ok {
		return ""
	}
	return spectrumText(p)
}

// ReadPaper reads the text of a file with the spectrum of a paper.
func (a *App) ReadPaper(file, text, name string) (stack.Paper, error) {
	p, err := stack.PaperFromSpectrum("", name, []byte(text))
	return p, a.unread(file, err)
}

// PaperOfLab makes a paper of its colour.
func (a *App) PaperOfLab(name string, lab spectrum.Lab) (stack.Paper, error) {
	p, err := stack.PaperFromLab("", name, lab)
	return p, a.unread("", err)
}

// unread says what is wrong with a file, or with what has none.
func (a *App) unread(file string, err error) error {
	if err == nil {
		return nil
	}
	if file != "" {
		err = fmt.Errorf("%s, %w", file, err)
	}
	a.Desk.Complain(a.Sentence(err, file) + " Nothing was changed.")
	return err
}

// spectrumText is a paper as ReadPaper takes it back.
func spectrumText(p stack.Paper) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s: %s\n# nm, reflectance\n", oneLine(p.Name), oneLine(p.Source))
	for i, r := range p.R {
		fmt.Fprintf(&b, "%g, %.5f\n", spectrum.Wavelength(i), r)
	}
	return b.String()
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// PigmentFacts is a pigment of the table and what is known of it.
type PigmentFacts struct {
	CI            string `json:"ci"`
	Name          string `json:"name"`
	Era           string `json:"era"`
	Status        string `json:"status"`
	Source        string `json:"source"`
	Lightfastness string `json:"lightfastness"`
	OnShow        string `json:"onShow"` // how long it lasts in a gallery; empty where that is not known
	Hazard        string `json:"hazard"`
	Swatch        string `json:"swatch"`
}

// onShow says how long a pigment lasts in the dim gallery, by the classes that its facts name or,
// as on the board, by those that stand for its ASTM category.
func onShow(p pigment.Pigment) string {
	const hours = 8
	classes, known := p.Classes()
	least, most, ok := classes.Years(session.GalleryLux, hours)
	if !known || !ok {
		return ""
	}
	by := "blue wool"
	if p.BlueWool == (pigment.BlueWool{}) {
		by = fmt.Sprintf("taken as blue wool %g–%g", classes.Least, classes.Most)
	}
	return fmt.Sprintf("At %d lx, %d h a day and no UV, it fades noticeably after about %s to %s years (%s, after Michalski 1990).",
		session.GalleryLux, hours, rounded(least), rounded(most), by)
}

// rounded gives a number to two digits, as a rough one is told.
func rounded(v float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return strconv.FormatFloat(math.Round(v/unit)*unit, 'f', max(0, -int(math.Floor(math.Log10(unit)))), 64)
}

// PigmentTable is the whole table of pigments. The swatch of a pigment is the colour of a
// layer of it alone, at full coated strength on the default paper under D50.
func PigmentTable() []PigmentFacts {
	d50, _ := spectrum.LightByID("D50")
	var out []PigmentFacts
	for _, p := range pigment.Pigments() {
		r := stack.DefaultRecipe(pigment.Palette{Yellow: pigment.NewTissue(pigment.Share{CI: p.CI, Share: 1})})
		out = append(out, PigmentFacts{p.CI, p.Name, p.Era, p.Status, p.Source, p.Lightfastness, onShow(p), p.Hazard, prints.Hex(r.Reflectance([3]float64{1, 0, 0}), d50)})
	}
	return out
}
