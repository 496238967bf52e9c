package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/intake"
	"threeply/proof/label"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/report"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/tools/files"
)

// registerPlates finds where the plates lie against the key.
func registerPlates(args []string, out io.Writer) error {
	f := flag.NewFlagSet("register", flag.ContinueOnError)
	opening, level := addOpening(f), addLevels(f)
	key := addKey(f, "the plate that the others are registered to")
	asJSON := f.Bool("json", false, "write JSON in place of text")
	dir := f.String("o", "", "folder for the registered plates red.tif, green.tif, blue.tif (16-bit grey, linear transmittance), the picture they make, reference.tif (16-bit sRGB), matrices.csv and verdict.csv")
	local := f.Bool("local", false, "with -o: add the local register, a smooth displacement as of unevenly shrunken film, where it leaves less at places that it was not fitted to")
	page := f.String("report", "", "printable page (HTML) to sign: the plates with their SHA-256 and matrices, the verdicts, a map of what was measured, the worst places")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), `Usage: threeply register [options] FILE...

Finds, for each plate, the map from the key's pixels to its own: dx, dy, turn
and stretch about the picture's centre, how far to believe it, and what is left
over. Files: the red, green and blue plate, or one tall or colour file.

In the JSON a matrix is [a11, a12, a13, a21, a22, a23]; it takes the key's pixel
(x, y), centres at whole numbers, to the plate's.

`)
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := checkKey(*key); err != nil {
		return err
	}
	want, err := level.read()
	if err != nil {
		return err
	}
	if *local && *dir == "" {
		return usageError("-local says how the registered plates are drawn, so it needs -o FOLDER")
	}
	job := &files.Job{Overwrite: *overwrite}
	if *dir != "" {
		if err := job.Plan(registeredNames(*dir), f.Args()...); err != nil {
			return err
		}
	}
	if *page != "" {
		if err := job.Plan([]string{*page}, f.Args()...); err != nil {
			return err
		}
	}
	set, err := openPlates(job, opening, f.Args())
	if err != nil {
		return err
	}
	notes := asGiven(set)
	s := intake.Begin(set)
	s.Key = *key
	found, err := registration.Register(context.Background(), &s, set.Density, nil)
	if err != nil {
		return err
	}
	if err := found.Command().Apply(&s); err != nil {
		return err
	}
	rests, err := want.apply(&s, set.Density)
	if err != nil {
		return err
	}
	notes = append(notes, rests.words()...)
	if *dir != "" {
		say := out
		if *asJSON {
			say = io.Discard
		}
		if err := writeRegistered(job, *dir, &s, set.Density, found, *local, say, label.Now()); err != nil {
			return err
		}
	}
	if *page != "" {
		r, err := report.Of(&s, set.Density, label.Now())
		if err != nil {
			return err
		}
		if err := job.Write(files.Out{Name: *page, Content: r.Write}); err != nil {
			return err
		}
		if !*asJSON {
			fmt.Fprintf(out, "wrote %s\n", *page)
		}
	}
	if *asJSON {
		return writeRegisterJSON(out, &s, found, notes)
	}
	writeRegisterText(out, &s, found)
	fmt.Fprintf(out, "\nKey: %s\n\n%s", registration.Propose(&s, set.Density).Why, lines(notes))
	return nil
}

// registered is one plate in the JSON of register.
type registered struct {
	File       string        `json:"file"`
	SHA256     string        `json:"sha256"`   // of the file
	Polarity   string        `json:"polarity"` // "negative" or "positive"
	Matrix     affine.Matrix `json:"matrix"`
	Confidence float64       `json:"confidence"`
	Residual   residual      `json:"residual_px"`
	Outvoted   float64       `json:"outvoted"` // share of the places measured with certainty that lie elsewhere
	Words      string        `json:"words"`
}

// residual is what is left over at the measured places, pixels of the key; null where
// nothing was measured.
type residual struct {
	Median *float64 `json:"median"`
	P95    *float64 `json:"p95"`
	Max    *float64 `json:"max"`
}

func residualOf(found registration.Registration, source int) residual {
	if len(found.Left[source]) == 0 {
		return residual{}
	}
	p := &found.Found[source]
	return residual{&p.Median, &p.P95, &p.Max}
}

func writeRegisterJSON(out io.Writer, s *session.State, found registration.Registration, notes []string) error {
	plates := map[string]registered{}
	for _, f := range filter.All {
		name := f.String()
		i := s.Assign[f]
		p, src, polarity := found.Found[i], &s.Sources[i], "positive"
		if src.Film.Negative {
			polarity = "negative"
		}
		plates[name] = registered{src.File, src.SHA256, polarity, p.Matrix, p.Confidence, residualOf(found, i), found.Outvoted[i], p.Words}
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	w, h := s.Frame()
	return e.Encode(struct {
		Key     string                `json:"key"`
		Width   int                   `json:"width"`
		Height  int                   `json:"height"`
		Verdict judged                `json:"verdict"`
		Plates  map[string]registered `json:"plates"`
		Notes   []string              `json:"notes"` // on the files, and on what the greys rest on
	}{s.Key, w, h, judgedOf(s), plates, notes})
}

// judged is the verdict on the scans in the JSON of register. InRegister is null where it
// cannot be judged, the figures where nothing was measured.
type judged struct {
	InRegister *bool    `json:"in_register"`
	Stars      int      `json:"stars"`
	P95        *float64 `json:"p95_px"`
	Largest    *float64 `json:"largest_px"`
	Coverage   float64  `json:"coverage"`
	Parted     bool     `json:"parted"`
	Sentence   string   `json:"sentence"`
}

func judgedOf(s *session.State) judged {
	v := verdict.OfScan(s)
	out := judged{Stars: v.Stars, Coverage: v.Coverage, Parted: v.Parted, Sentence: v.Sentence}
	if in, ok := v.InRegister(); ok {
		out.InRegister = &in
	}
	if v.Measured {
		out.P95, out.Largest = &v.P95, &v.Largest
	}
	return out
}

func writeRegisterText(out io.Writer, s *session.State, found registration.Registration) {
	w, h := s.Frame()
	v := verdict.OfScan(s)
	fmt.Fprintf(out, "Registered to the %s plate, %d × %d pixels.\n\n%s\n", s.Key, w, h, v.Sentence)
	if v.Stars > 0 {
		fmt.Fprintf(out, "%d of 4 stars (%s)\n", v.Stars, verdict.Guideline)
	}
	for _, f := range filter.All {
		i := s.Assign[f]
		if i == s.KeySource() {
			continue
		}
		p := found.Found[i]
		fmt.Fprintf(out, "\n%s: %s\n", plateTitle(f), p.Words)
		fmt.Fprintf(out, "  confidence  %.0f %%\n", 100*p.Confidence)
		if p.Confidence < register.FoundFrom {
			fmt.Fprintln(out, "  lies        not found: as it was scanned, centre on centre")
		} else {
			writeLies(out, s, i, p.Matrix)
		}
		if len(found.Left[i]) == 0 {
			fmt.Fprintln(out, "  left over   not known")
			continue
		}
		fmt.Fprintf(out, "  left over   half within %.2f, 95 %% within %.2f, worst %.2f px\n", p.Median, p.P95, p.Max)
	}
}

// writeLies says where the picture lies in a plate's scan: its centre against
// the scan's own, whatever the sizes of both scans, and how it is turned,
// stretched and mirrored there.
func writeLies(out io.Writer, s *session.State, source int, m affine.Matrix) {
	w, h := s.Frame()
	parts := m.Decompose(float64(w-1)/2, float64(h-1)/2)
	pose := place.PoseIn(parts)
	dx, dy := verdict.Shift(s, source, m)
	side := func(v float64, decimals int, unit, less, more string) string {
		size := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
		if strings.Trim(size, "0.") == "" {
			return size + unit
		}
		return size + unit + map[bool]string{true: less, false: more}[v < 0]
	}
	fmt.Fprintf(out, "  lies        %s and %s in its scan, from centre to centre\n",
		side(dx, 2, " px", " to the left", " to the right"), side(dy, 2, " px", " up", " down"))
	fmt.Fprintf(out, "  turned      %s\n", side(pose.Turn, 3, "°", " to the left", " to the right"))
	fmt.Fprintf(out, "  stretched   %+.3f %% across, %+.3f %% down\n", 100*(parts.StretchX-1), 100*(math.Abs(parts.StretchY)-1))
	if pose.Mirrored {
		fmt.Fprintln(out, "  mirrored    left to right: scanned from the back")
	}
}
