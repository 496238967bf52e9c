package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"

	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/intake"
	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/plate"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/tone"
	"threeply/tools/files"
)

// plates tells what goes into a proof of three plates.
func plates(args []string, out io.Writer) error {
	f := flag.NewFlagSet("plates", flag.ContinueOnError)
	opening, level := addOpening(f), addLevels(f)
	key := addKey(f, "the plate in whose pixels places are given")
	width := f.Float64("width", session.New().PrintWidth, "width of the print in mm, which gives the pixels to the inch on it")
	asJSON := f.Bool("json", false, "write JSON in place of text")
	f.Usage = func() {
		fmt.Fprint(f.Output(), `Usage: threeply plates [options] FILE...

Tells what goes into a proof: of each plate its base and fog, white, black and
contrast, and where they come from; how the greys of the scene lie on the three
plates; whether a grey scale lies in the picture; what the assumptions on the
light of the scene make of it, and how far they disagree; and whether the scans
are fit, with what to do. Files: the red, green and blue plate, or one tall or
colour file. The plates are registered first.

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
	if err := checkKey(*key); err != nil {
		return err
	}
	set, err := openPlates(&files.Job{}, opening, f.Args())
	if err != nil {
		return err
	}
	r := platesReport{Notes: asGiven(set)}
	s := intake.Begin(set)
	s.Key, s.PrintWidth = *key, *width
	if err := s.Check(); err != nil {
		return usageError(err.Error())
	}
	found, err := registration.Register(context.Background(), &s, set.Density, nil)
	if err != nil {
		return err
	}
	s.Registered, s.Found = "auto", found.Found
	if err := r.fill(&s, set, want); err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(out, r)
	}
	r.write(out)
	return nil
}

// platesReport is what “threeply plates -json” says.
type platesReport struct {
	Notes    []string               `json:"notes"`
	Key      string                 `json:"key"`
	Width    int                    `json:"width"`
	Height   int                    `json:"height"`
	Plates   map[string]plateLevels `json:"plates"`
	RestsOn  session.Neutral        `json:"rests_on"`
	Words    []string               `json:"words"`
	Greys    *neutral.Match         `json:"greys,omitempty"`
	Proposed *neutral.Scale         `json:"scale_proposed,omitempty"`
	Light    light.Comparison       `json:"light"`
	Apart    *float64               `json:"light_apart_stops"` // null where fewer than two assumptions tell anything
	Fitness  []fitness.Finding      `json:"fitness"`
}

// plateLevels are the levels of one plate.
type plateLevels struct {
	File          string    `json:"file"`
	Polarity      string    `json:"polarity"`
	PolaritySure  float64   `json:"polarity_sure"`
	Encoding      string    `json:"encoding"`
	EncodingKnown string    `json:"encoding_known"` // chosen, profile, declared or assumed
	Base          float64   `json:"base_fog"`
	BaseFrom      string    `json:"base_fog_from"` // “rebate”, or “picture” for its thinnest part
	Thinnest      float64   `json:"thinnest"`
	Densest       float64   `json:"densest"`
	Film          tone.Film `json:"film"`
	GammaFrom     string    `json:"gamma_from"`
	Stops         float64   `json:"stops"`
	AtLeast       bool      `json:"stops_at_least"`
	Remarks       []string  `json:"remarks,omitempty"` // on the scan
}

// fill fills in the report, and gives s the films that are found.
func (r *platesReport) fill(s *session.State, set *plate.Set, want wanted) error {
	r.Key = s.Key
	r.Width, r.Height = s.Frame()
	rests, err := want.apply(s, set.Density)
	if err != nil {
		return err
	}
	r.RestsOn, r.Words, r.Greys = s.Neutral, rests.words(), rests.match
	planes := levels.Planes{By: set.Density}
	laid := levels.Overlay(s, planes)
	if scale, ok := levels.Scale(s, planes); ok {
		r.Proposed = &scale
	}
	_, r.Light = levels.ByLight(s, planes, light.Default)
	if apart := r.Light.Apart; !math.IsInf(apart, 1) {
		r.Apart = &apart
	}
	r.Fitness = levels.Fitness(s, laid.Blur())
	r.Plates = map[string]plateLevels{}
	for _, f := range filter.All {
		src := s.Sources[s.Assign[f]]
		p := plateLevels{
			File: src.File, Polarity: polarityOf(src.Film), PolaritySure: src.Sure, Encoding: src.Encoding, EncodingKnown: src.Scan.Known,
			Thinnest: src.Base, Densest: src.Max, Film: src.Film, BaseFrom: "picture", GammaFrom: gammaFrom(s, f),
			Remarks: src.Remarks,
		}
		var fromRebate bool
		if p.Base, fromRebate = src.BaseFog(); fromRebate {
			p.BaseFrom = "rebate"
		}
		p.Stops, p.AtLeast = fitness.Plate{Thin: src.Base, Dense: src.Max, Gamma: src.Film.Gamma, Facts: src.Scan}.Stops()
		r.Plates[f.String()] = p
	}
	return nil
}

func polarityOf(f tone.Film) string {
	if f.Negative {
		return string(plate.Negative)
	}
	return string(plate.Positive)
}

// gammaFrom says where the contrast of a plate comes from.
func gammaFrom(s *session.State, f filter.Filter) string {
	switch n := s.Neutral; {
	case n.Absolute():
		return "the grey scale's steps"
	case n.By != session.ByGreys && n.By != session.ByScale:
		return "assumed"
	case f.String() == s.Key:
		return "assumed, the greys tell the others' against it"
	}
	return "the greys, against the key's"
}

// write writes the report as text.
func (r *platesReport) write(out io.Writer) {
	fmt.Fprintf(out, "Three plates, registered to the %s one, %d × %d pixels.\n", r.Key, r.Width, r.Height)
	if len(r.Notes) > 0 {
		fmt.Fprintf(out, "\n%s", lines(r.Notes))
	}
	for i, f := range filter.All {
		p := r.Plates[f.String()]
		fmt.Fprintf(out, "\n%s: %s, a %s (%.0f %% sure)\n", plateTitle(f), p.File, p.Polarity, 100*p.PolaritySure)
		fmt.Fprintf(out, "  base and fog  %.2f, from the %s; densest %.2f\n", p.Base, map[string]string{"rebate": "rebate", "picture": "picture's thinnest part"}[p.BaseFrom], p.Densest)
		bend := ""
		if n := len(p.Film.Bend.Knots()); n > 0 {
			bend = fmt.Sprintf(", bent through %d measured points", n)
		}
		fmt.Fprintf(out, "  white         density %.2f, black %.2f\n", p.Film.White, p.Film.Black)
		fmt.Fprintf(out, "  contrast      γ %.2f (%s)%s\n", p.Film.Gamma, p.GammaFrom, bend)
		for _, remark := range p.Remarks {
			fmt.Fprintf(out, "? scan: %s.\n", remark)
		}
		for _, finding := range r.Fitness {
			if finding.Plate == i {
				writeFinding(out, finding)
			}
		}
	}
	fmt.Fprint(out, "\nThe set\n")
	for _, finding := range r.Fitness {
		if finding.Plate == fitness.All {
			writeFinding(out, finding)
		}
	}
	fmt.Fprintf(out, "\n%s", lines(r.Words))
	switch {
	case r.Proposed != nil:
		s := r.Proposed
		fmt.Fprintf(out, "A grey scale of %d steps seems to lie in the picture. To use it: -scale \"%.0f,%.0f;%.0f,%.0f\"\n", len(s.Steps), s.X0, s.Y0, s.X1, s.Y1)
	default:
		fmt.Fprintln(out, "No grey scale was found in the picture.")
	}
	fmt.Fprint(out, "\nThe light of the scene, exposure of a neutral against the green plate, in stops\n")
	for _, e := range r.Light.Estimates {
		a, _ := light.AssumptionByID(e.ID)
		if !e.Known {
			fmt.Fprintf(out, "  %-12s  unknown\n", a.Name)
			continue
		}
		fmt.Fprintf(out, "  %-12s  red %+.2f, blue %+.2f   if %s\n", a.Name, e.Stops[0], e.Stops[2], a.Says)
	}
	fmt.Fprintf(out, "  %s\n", r.Light.Words)
}

func writeFinding(out io.Writer, f fitness.Finding) {
	mark := map[fitness.Weight]string{fitness.Fine: " ", fitness.Mind: "?", fitness.Mend: "!"}[f.Weight]
	fmt.Fprintf(out, "%s %s: %s. %s", mark, f.About, f.Figure, f.Says)
	if f.Do != "" {
		fmt.Fprintf(out, " %s", f.Do)
	}
	fmt.Fprintln(out)
}
