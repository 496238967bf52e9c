//go:build js

package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"syscall/js"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// offerOwn adds the functions for palettes and papers of the user's own: they
// turn files and figures into what the commands takePalette and takePaper take,
// and back into files. What reads says what is wrong and changes nothing.
func offerOwn(a *app, set func(name string, f func(args []js.Value) any)) {
	set("pigments", func([]js.Value) any { return text(pigmentTable()) })
	set("paletteText", func(args []js.Value) any {
		p, ok := a.PaletteByID(args[0].String())
		if !ok {
			return ""
		}
		out, _ := p.Write() // a session holds sound palettes only
		return string(out)
	})
	set("paletteSchema", func([]js.Value) any { return string(pigment.Schema) })
	set("readPalette", func(args []js.Value) any {
		p, err := pigment.Read([]byte(args[1].String()))
		return a.read("palette", p, ofFile(args[0], err), args[0].String())
	})
	set("paperText", func(args []js.Value) any {
		p, ok := a.PaperByID(args[0].String())
		if !ok {
			return ""
		}
		return spectrumText(p)
	})
	set("readPaper", func(args []js.Value) any {
		p, err := stack.PaperFromSpectrum("", args[2].String(), []byte(args[1].String()))
		return a.read("paper", p, ofFile(args[0], err), args[0].String())
	})
	set("paperOfLab", func(args []js.Value) any {
		p, err := stack.PaperFromLab("", args[0].String(), spectrum.Lab{args[1].Float(), args[2].Float(), args[3].Float()})
		return a.read("paper", p, err)
	})
}

func ofFile(name js.Value, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s, %w", name.String(), err)
}

// read gives what was read under its name, or says what is wrong; files are
// the names that an error may begin with.
func (a *app) read(what string, v any, err error, files ...string) any {
	if err != nil {
		a.say("error", a.sentence(err, files...)+" Nothing was changed.")
		a.changed()
		return answer(err)
	}
	return text(map[string]any{what: v})
}

// spectrumText is a paper as readPaper takes it back.
func spectrumText(p stack.Paper) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s: %s\n# nm, reflectance\n", oneLine(p.Name), oneLine(p.Source))
	for i, r := range p.R {
		fmt.Fprintf(&b, "%g, %.5f\n", spectrum.Wavelength(i), r)
	}
	return b.String()
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// pigmentFacts is a pigment of the table and what is known of it.
type pigmentFacts struct {
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

// onShow says how long a colour lasts in the dim gallery.
func onShow(b pigment.BlueWool) string {
	const hours = 8
	least, most, ok := b.Years(session.GalleryLux, hours)
	if !ok {
		return ""
	}
	return fmt.Sprintf("At %d lx, %d h a day and no UV, it fades noticeably after about %s to %s years (blue wool, after Michalski 1990).",
		session.GalleryLux, hours, rounded(least), rounded(most))
}

// rounded gives a number to two digits, as a rough one is told.
func rounded(v float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return strconv.FormatFloat(math.Round(v/unit)*unit, 'f', max(0, -int(math.Floor(math.Log10(unit)))), 64)
}

// pigmentTable is the whole table. The swatch of a pigment is the colour of a
// layer of it alone, at full coated strength on the default paper under D50.
func pigmentTable() []pigmentFacts {
	d50, _ := spectrum.LightByID("D50")
	var out []pigmentFacts
	for _, p := range pigment.Pigments() {
		r := stack.DefaultRecipe(pigment.Palette{Yellow: pigment.NewTissue(pigment.Share{CI: p.CI, Share: 1})})
		out = append(out, pigmentFacts{p.CI, p.Name, p.Era, p.Status, p.Source, p.Lightfastness, onShow(p.BlueWool), p.Hazard, hex(r.Reflectance([3]float64{1, 0, 0}), d50)})
	}
	return out
}
