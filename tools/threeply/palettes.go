package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/tools/files"
)

// paletteReport is what “threeply palettes -json” says of one palette. K and S are the
// Kubelka–Munk absorption and scattering of a tissue, per unit of relative thickness,
// where 1 is the whole coat. The depth is on the default paper, glossy, in the usual
// order, under D50.
type paletteReport struct {
	ID          string               `json:"id"`
	Name        string               `json:"name"`
	Era         string               `json:"era"`
	Own         bool                 `json:"own,omitempty"`      // it belongs to the session
	Measured    *pigment.Measurement `json:"measured,omitempty"` // how, where it was
	Wavelengths spectrum.Curve       `json:"wavelengths"`
	Layers      [3]tissueReport      `json:"layers"`
	Depth       depthReport          `json:"depth"`
}

type tissueReport struct {
	Printer  string          `json:"printer"`
	Pigments []pigmentReport `json:"pigments"`
	K        spectrum.Curve  `json:"K"`
	S        spectrum.Curve  `json:"S"`
}

type pigmentReport struct {
	CI            string  `json:"ci"`
	Name          string  `json:"name"`
	Share         float64 `json:"share"`
	Status        string  `json:"status"`
	Source        string  `json:"source"`
	Lightfastness string  `json:"lightfastness"`
	Hazard        string  `json:"hazard"`
}

type depthReport struct {
	Lab           spectrum.Lab `json:"lab"`
	VisualDensity float64      `json:"visual_density"`
	Thickness     thicknesses  `json:"thickness"`
}

type thicknesses struct {
	Yellow  float64 `json:"yellow"`
	Magenta float64 `json:"magenta"`
	Cyan    float64 `json:"cyan"`
}

// palettes lists the palettes.
func palettes(args []string, out io.Writer) error {
	f := flag.NewFlagSet("palettes", flag.ContinueOnError)
	asJSON := f.Bool("json", false, "write JSON, with absorption and scattering by wavelength")
	saved := f.String("session", "", "list a saved session's own palettes too")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply palettes [-session FILE] [-json]\n\nLists the palettes: the pigments of the three tissues and the deepest neutral\nthat they reach on gelatine-sized paper, glossy, under D50.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	s := session.New()
	if *saved != "" {
		var err error
		if s, err = sessionNamed(&files.Job{}, *saved); err != nil {
			return err
		}
	}
	var all []paletteReport
	for _, p := range s.Palettes() {
		r := reportPalette(p)
		r.Own = s.Own(p.ID)
		all = append(all, r)
	}
	if *asJSON {
		return writeJSON(out, all)
	}
	return tablePalettes(out, all)
}

func reportPalette(p pigment.Palette) paletteReport {
	light, _ := spectrum.LightByID("D50")
	d := balance.Neutral(stack.DefaultRecipe(p), light, balance.DefaultLimit).Depth
	r := paletteReport{
		ID: p.ID, Name: p.Name, Era: p.Era, Measured: p.Measured, Wavelengths: spectrum.Wavelengths(),
		Depth: depthReport{d.Lab, d.VisualDensity, thicknesses{d.Thickness[0], d.Thickness[1], d.Thickness[2]}},
	}
	for _, printer := range pigment.Printers() {
		t := p.Layer(printer)
		l := &r.Layers[printer]
		l.Printer = printer.String()
		l.K, l.S = t.KS()
		for _, s := range t.Pigments {
			g, _ := pigment.PigmentByCI(s.CI)
			l.Pigments = append(l.Pigments, pigmentReport{s.CI, g.Name, s.Share, g.Status, g.Source, g.Lightfastness, g.Hazard})
		}
	}
	return r
}

func tablePalettes(out io.Writer, all []paletteReport) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "ID\tNAME\tERA\tYELLOW\tMAGENTA\tCYAN\tDEEPEST L*\tDENSITY")
	for _, p := range all {
		era := p.Era
		if p.Own {
			era += ", own"
		}
		if p.Measured != nil {
			era += ", measured"
		}
		fmt.Fprintf(w, "%s\t%s\t%s", p.ID, p.Name, era)
		for _, l := range p.Layers {
			var mix []string
			for _, g := range l.Pigments {
				if len(l.Pigments) == 1 {
					mix = append(mix, g.CI)
				} else {
					mix = append(mix, fmt.Sprintf("%s %.0f%%", g.CI, 100*g.Share))
				}
			}
			fmt.Fprintf(w, "\t%s", strings.Join(mix, " + "))
		}
		fmt.Fprintf(w, "\t%.1f\t%.2f\n", p.Depth.Lab[0], p.Depth.VisualDensity)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(out, "\nSpectra are approximate and built in, except of measured palettes (“threeply testsheet”).\nDry pigments raise dust, some are toxic: “-json” gives each one's hazard; follow its\nsafety data sheet.")
	return err
}

func writeJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
