package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/film"
	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/setter"
	"threeply/proof/transfer"
	"threeply/tools/files"
)

// printingNegatives writes the printing negatives of three plates.
func printingNegatives(args []string, out, warn io.Writer) error {
	f := flag.NewFlagSet("negatives", flag.ContinueOnError)
	opening, level := addOpening(f), addLevels(f)
	recipe := addRecipe(f, "plates' roles, register, offsets, tissues, route, film and all else")
	way, setup := addWay(f), addSetup(f)
	dir := f.String("o", "", "the folder to write the three negatives to")
	asJSON := f.Bool("json", false, "print what was written as JSON")
	curves := f.String("curves", "", "a .csv file for the layers' curves: density and code of each negative by tone, and what prints")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), `Usage: threeply negatives [options] -o FOLDER FILE...

Writes the three printing negatives at the print's size: TIFF of 16 bits, grey, with
register marks, scale bars, wedges, safe edge and label, and a profile that states the
density of every code. A file shows the film as seen from its emulsion (ink) side; the
route of transfers and the side that lies on the tissue say whether it is mirrored.

`)
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	want, err := level.read()
	if err != nil {
		return err
	}
	if *dir == "" {
		return usageError("-o is missing: name the folder for the negatives")
	}
	names := negativeNames(*dir)
	outs := names[:]
	if *curves != "" {
		outs = append(slices.Clone(outs), *curves)
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan(outs, append(append(recipe.files(), setup.files()...), f.Args()...)...); err != nil {
		return err
	}
	set, s, notes, err := openWork(job, opening, *recipe.saved, f.Args(), func(note string) { fmt.Fprintf(warn, "threeply negatives: %s\n", note) })
	if err != nil {
		return err
	}
	history := command.NewHistory(s)
	if err := recipe.apply(job, history); err != nil {
		return err
	}
	if err := way.apply(history); err != nil {
		return err
	}
	if err := setup.apply(job, history); err != nil {
		return err
	}
	rests, err := settle(history, set, want)
	if err != nil {
		return err
	}
	made, err := setter.New(&history.State, set.Density, label.Now())
	if err != nil {
		return err
	}
	if err := files.MakeFolder(*dir); err != nil {
		return err
	}
	sums, err := writeNegatives(job, made, names, *curves)
	if err != nil {
		return err
	}
	if note := export.NotInRegister(&history.State); note != "" {
		fmt.Fprintf(warn, "threeply negatives: %s\n", note)
	}
	if *asJSON {
		return writeNegativesJSON(out, made, names, sums)
	}
	for _, name := range names {
		fmt.Fprintf(out, "wrote %s\n", name)
	}
	w, h := made.SizeMM()
	fmt.Fprintf(out, "\n%d × %d pixels at %g an inch, %.1f × %.1f mm\n\n", made.W, made.H, made.PPI, w, h)
	fmt.Fprintf(out, "%s\n%s%s", lines(made.Setup.Lies(history.Transfer())), lines(made.Notes), lines(append(notes, rests...)))
	return nil
}

// negativeNames are the names of the three files, by printer.
func negativeNames(dir string) [3]string {
	var names [3]string
	for _, p := range pigment.Printers() {
		names[p] = filepath.Join(dir, p.String()+"-negative.tif")
	}
	return names
}

// writeNegatives writes the three files, and the curves where they have a name, all or none,
// and gives the SHA-256 of the three.
func writeNegatives(job *files.Job, made *setter.Negatives, names [3]string, curves string) (sums [3]string, err error) {
	var outs []files.Out
	for i, name := range names {
		outs = append(outs, files.Out{Name: name, Content: func(w io.Writer) error {
			t, err := made.TIFF(pigment.Printer(i))
			if err != nil {
				return err
			}
			sum := sha256.New()
			if err := t.Write(io.MultiWriter(w, sum)); err != nil {
				return err
			}
			sums[i] = hex.EncodeToString(sum.Sum(nil))
			return nil
		}})
	}
	if curves != "" {
		outs = append(outs, files.Out{Name: curves, Content: func(w io.Writer) error {
			_, err := io.WriteString(w, made.CurvesCSV())
			return err
		}})
	}
	err = job.Write(outs...)
	return sums, err
}

// written is one negative in the JSON of negatives. Boxes are x0, y0, x1, y1 in pixels,
// the last two not included; marks are the pixels of their centres.
type written struct {
	Name     string    `json:"name"`
	Layer    string    `json:"layer"`
	Mirrored bool      `json:"mirrored"`
	Side     string    `json:"side"`
	Width    int       `json:"width"`
	Height   int       `json:"height"`
	PPI      float64   `json:"ppi"`
	Density  densities `json:"density"` // of codes 65535 and 0
	Trim     [4]int    `json:"trim"`
	Marks    [][2]int  `json:"marks"`
	SHA256   string    `json:"sha256"`
}

type densities struct {
	Min float64 `json:"min"`
	Max float64 `json:"max"`
}

func writeNegativesJSON(out io.Writer, made *setter.Negatives, names, sums [3]string) error {
	report := struct {
		Files []written `json:"files"`
	}{}
	for i, name := range names {
		t := made.Trim
		w := written{
			Name: filepath.Base(name), Layer: pigment.Printer(i).String(), Mirrored: made.Mirrored, Side: made.Setup.Side,
			Width: made.W, Height: made.H, PPI: made.PPI, Density: densities{0, made.Setup.Film.Max},
			Trim: [4]int{t.X0, t.Y0, t.X1, t.Y1}, Marks: made.Marks, SHA256: sums[i],
		}
		if w.Marks == nil {
			w.Marks = [][2]int{}
		}
		report.Files = append(report.Files, w)
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(report)
}

// setupOptions are the options by which a command says how printing negatives are made.
// What is left out is the session's.
type setupOptions struct {
	route, supports, side, sheet, trim, filmFile, tablet, measured *string
	width, ppi, allowance, safeEdge, punch                         *float64
	dotTable                                                       *string
	screen, gain, least, most, holds                               *float64
	bare, offsets                                                  *bool
	given                                                          func(name string) bool
}

func addSetup(f *flag.FlagSet) setupOptions {
	usual := negative.Usual
	return setupOptions{
		route:     f.String("route", "", "route of the layers to the paper: "+listed(transfer.Routes(), func(r transfer.Route) string { return r.ID })+"; or own, see -supports"),
		supports:  f.String("supports", "", "a route of your own: its supports with commas between, in the order that the layers meet them, the print last"),
		width:     f.Float64("width", 0, fmt.Sprintf("width of the key plate on the print in mm (default %g)", session.New().PrintWidth)),
		ppi:       f.Float64("ppi", usual.PPI, "pixels an inch of the negatives"),
		side:      f.String("side", usual.Side, "side of the film that lies on the tissue: emulsion or base"),
		trim:      f.String("trim", usual.Trim, "what the print is trimmed to: the whole scan of the key plate (plate), or the picture within its borders (picture)"),
		allowance: f.Float64("allowance", usual.Allowance, "trim allowance in mm"),
		safeEdge:  f.Float64("safe-edge", usual.SafeEdge, fmt.Sprintf("width of the opaque safe edge in mm, %d or more", negative.LeastSafeEdge)),
		punch:     f.Float64("punch", usual.Punch, "height of a strip for the register punch in mm; 0 for none"),
		screen:    f.Float64("screen", 0, fmt.Sprintf("screened negatives with dots of so many µm, %g to %g (%g is usual), of one bit a pixel; 0: continuous", negative.FinestDot, negative.CoarsestDot, negative.UsualDot)),
		gain:      f.Float64("dot-gain", 0, fmt.Sprintf("with -screen: area that a dot area of a half prints more than it has, 0 to %g", film.MostGain)),
		dotTable:  f.String("dot-table", "", "with -screen: measured growth of dots, in place of -dot-gain: a file with lines of a tint of the film and what it prints, in %"),
		least:     f.Float64("least-tint", 0, "with -screen: smallest tint of the film that holds on the tissue, in %; lighter ones are left bare"),
		most:      f.Float64("most-tint", 0, "with -screen: largest tint in which holes stay open, in %; 0 for any"),
		holds:     f.Float64("least-dot", 0, "with -screen: smallest dot that holds on the tissue, in µm"),
		sheet:     f.String("sheet", "", "film sheet that the negatives must go on: "+listed(negative.Sheets(), func(s negative.Sheet) string { return s.ID })),
		bare:      f.Bool("no-marks", false, "leave register marks, scale bars and wedges out"),
		offsets:   f.Bool("keep-offsets", false, "keep the layers' offsets of the session, instead of laying the plates in register"),
		filmFile:  f.String("film", "", "measured table of the film: lines of a code (0 to 100 %, 255 or 65535) and its density"),
		tablet:    f.String("tablet", "", "a step tablet's densities and the tones that they printed; -film is then the film's own wedge, printed beside it: codes and tones (see threeply film)"),
		measured:  f.String("measured", film.UV, "what the density of -film is: uv; or, of a silver film alone, visual or status"),
		given: func(name string) (given bool) {
			f.Visit(func(f *flag.Flag) { given = given || f.Name == name })
			return given
		},
	}
}

// files are those that the options name.
func (o setupOptions) files() []string {
	return slices.DeleteFunc([]string{*o.filmFile, *o.tablet, *o.dotTable}, func(name string) bool { return name == "" })
}

// apply has the session's negatives made as the options say; what they leave out stays.
func (o setupOptions) apply(in *files.Job, h *command.History) error {
	var do []command.Command
	switch {
	case o.given("supports"):
		if o.given("route") && *o.route != transfer.Own {
			return usageError(fmt.Sprintf("-supports makes a route of your own, and -route says %s: give one of them", *o.route))
		}
		do = append(do, command.Route{ID: transfer.Own, Supports: supportsOf(*o.supports)})
	case o.given("route"):
		do = append(do, command.Route{ID: *o.route})
	}
	if o.given("width") {
		do = append(do, command.PrintWidth{Width: *o.width})
	}
	var c command.Negatives
	marks := !*o.bare
	take(&c.Screen, o.screen, o.given("screen"))
	take(&c.Gain, o.gain, o.given("dot-gain"))
	least, most := *o.least/100, *o.most/100
	take(&c.Least, &least, o.given("least-tint"))
	take(&c.Most, &most, o.given("most-tint"))
	take(&c.Holds, o.holds, o.given("least-dot"))
	take(&c.PPI, o.ppi, o.given("ppi"))
	if *o.screen > 0 && !o.given("ppi") { // a pixel a dot
		fine := math.Ceil(25400 / *o.screen)
		c.PPI = &fine
	}
	take(&c.Side, o.side, o.given("side"))
	take(&c.Trim, o.trim, o.given("trim"))
	take(&c.Allowance, o.allowance, o.given("allowance"))
	take(&c.SafeEdge, o.safeEdge, o.given("safe-edge"))
	take(&c.Punch, o.punch, o.given("punch"))
	take(&c.Sheet, o.sheet, o.given("sheet"))
	take(&c.Marks, &marks, o.given("no-marks"))
	take(&c.Offsets, o.offsets, o.given("keep-offsets"))
	if c != (command.Negatives{}) {
		do = append(do, c)
	}
	for _, c := range do {
		if err := h.Do(c, ""); err != nil {
			return usageError(err.Error())
		}
	}
	if *o.dotTable != "" {
		text, err := in.Read(*o.dotTable)
		if err != nil {
			return err
		}
		tints := string(text)
		if err := h.Do(command.Negatives{Tints: &tints}, ""); err != nil {
			return fmt.Errorf("%s: %w", *o.dotTable, err)
		}
	}
	if *o.filmFile == "" {
		if *o.tablet != "" {
			return usageError("-tablet goes with -film, the film's own wedge that was printed beside it")
		}
		return nil
	}
	text, err := in.Read(*o.filmFile)
	if err != nil {
		return err
	}
	kind := film.Inkjet
	if *o.measured != film.UV {
		kind = film.Silver
	}
	measured := command.PrintingFilm{Kind: kind, Measured: *o.measured, Table: string(text)}
	names := *o.filmFile
	if *o.tablet != "" {
		steps, err := in.Read(*o.tablet)
		if err != nil {
			return err
		}
		measured.Tablet, names = string(steps), names+", "+*o.tablet
	}
	if err := h.Do(measured, ""); err != nil {
		return fmt.Errorf("%s: %w", names, err)
	}
	return nil
}

// supportsOf parts the names of supports.
func supportsOf(list string) []string {
	var out []string
	for name := range strings.SplitSeq(list, ",") {
		out = append(out, strings.TrimSpace(name))
	}
	return out
}

// take has an option's value taken where it was given.
func take[T any](to **T, value *T, given bool) {
	if given {
		*to = value
	}
}
