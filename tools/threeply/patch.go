package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"threeply/proof/export"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// patchReport is what “threeply patch -json” says. XYZ has the white at Y 100;
// sRGB is encoded, 0..1, clipped where the display cannot show the colour;
// reflectance and paper are as measured at the surface.
type patchReport struct {
	Lab         spectrum.Lab   `json:"lab"`
	XYZ         spectrum.XYZ   `json:"xyz"`
	SRGB        [3]float64     `json:"srgb"`
	Clipped     bool           `json:"srgb_clipped"`
	Density     densityReport  `json:"density"`
	Wavelengths spectrum.Curve `json:"wavelengths"`
	Reflectance spectrum.Curve `json:"reflectance"`
	Paper       spectrum.Curve `json:"paper"`
	Surface     stack.Surface  `json:"surface"`
}

type densityReport struct {
	Visual  float64    `json:"visual"`
	StatusA [3]float64 `json:"status_a"`
}

// patch computes the colour of one patch.
func patch(args []string, out io.Writer) error {
	f := flag.NewFlagSet("patch", flag.ContinueOnError)
	recipe := addRecipe(f, "tissues, order, paper, surface and light")
	var t [3]float64
	for _, p := range pigment.Printers() {
		f.Float64Var(&t[p], p.String()[:1], 0, "relative thickness of the "+p.String()+" layer, 1 for the whole coat")
	}
	asJSON := f.Bool("json", false, "write JSON, with the reflectance by wavelength")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply patch -palette ID|FILE [-y T] [-m T] [-c T] [options]\n       threeply patch -session FILE [-y T] [-m T] [-c T] [options]\n\nComputes the colour of three layers of given thickness on paper. Palettes and\npapers of your own are files: palettes as the page saves them, papers as text.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	r, l, err := recipe.read()
	if err != nil {
		return err
	}
	for _, p := range pigment.Printers() {
		if x := t[p]; !(x >= 0 && x <= 100) {
			return usageError(fmt.Sprintf("the %s layer cannot be %g thick: give 0 to 100, 1 for the whole coat", p, x))
		}
	}
	report := reportPatch(r, l, t)
	if *asJSON {
		return writeJSON(out, report)
	}
	return tablePatch(out, report, r.Palette)
}

func reportPatch(r stack.Recipe, light spectrum.Light, t [3]float64) patchReport {
	spectra := r.Reflectance(t)
	x := light.XYZ(spectra)
	p := patchReport{
		Lab: x.Lab(light.White), XYZ: x,
		Density:     densityReport{spectrum.VisualDensity(spectra), spectrum.StatusA(spectra)},
		Wavelengths: spectrum.Wavelengths(), Reflectance: spectra, Paper: r.Paper.R, Surface: r.Surface,
	}
	for ch, v := range spectrum.LinearSRGB(x, light.White) {
		shown := min(max(v, 0), 1)
		p.SRGB[ch] = spectrum.EncodeSRGB(shown)
		p.Clipped = p.Clipped || shown != v
	}
	return p
}

func tablePatch(out io.Writer, p patchReport, of pigment.Palette) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	three := func(name, format string, v [3]float64) {
		fmt.Fprintf(w, "%s\t"+strings.Repeat(format+"\t", 3)+"\n", name, v[0], v[1], v[2])
	}
	three("CIELAB L* a* b*", "%.2f", p.Lab)
	three("XYZ, white at Y 100", "%.3f", p.XYZ)
	name := "sRGB, 8 bits"
	if p.Clipped {
		name += ", clipped"
	}
	three(name, "%.0f", [3]float64{math.Round(255 * p.SRGB[0]), math.Round(255 * p.SRGB[1]), math.Round(255 * p.SRGB[2])})
	fmt.Fprintf(w, "visual density\t%.3f\t\n", p.Density.Visual)
	three("status A, red green blue", "%.3f", p.Density.StatusA)
	if err := w.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "\n%s\n", export.RestsOn(of))
	return err
}
