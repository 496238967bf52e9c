package model

import (
	"fmt"

	"threeply/proof/export"
	"threeply/proof/film"
	"threeply/proof/negative"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/workshop"
	"threeply/wasm/page/prints"
)

// OnBench is the part of the model that has it.
type OnBench struct {
	Workbench Bench `json:"workbench"`
}

// Bench is what the workshop needs of the print: its printing negatives, its exposures and
// how it is worked.
type Bench struct {
	Setup    Setup             `json:"setup"`    // of the printing negatives
	Size     string            `json:"size"`     // of the negative, and the sheet that it goes on
	Fits     bool              `json:"fits"`     // it goes on that sheet
	Lies     []string          `json:"lies"`     // which way file and film lie, in words
	Sheets   []Named           `json:"sheets"`   // of film
	Mind     []string          `json:"mind"`     // what to mind before film is spent
	Toxic    []string          `json:"toxic"`    // pigments of the palette that are
	Workshop workshop.Workshop `json:"workshop"` // as the session has it, or as usual
	Layers   [3]BenchLayer     `json:"layers"`   // by printer; empty words where no plates are open
}

// Setup is negative.Setup, with its film in words.
type Setup struct {
	PPI       float64   `json:"ppi"`
	Side      string    `json:"side"`
	Trim      string    `json:"trim"`
	Allowance float64   `json:"allowanceMm"`
	Marks     bool      `json:"marks"`
	SafeEdge  float64   `json:"safeEdgeMm"`
	Punch     float64   `json:"punchMm"`
	Sheet     string    `json:"sheet"`
	Offsets   bool      `json:"offsets"`
	Screen    float64   `json:"screenUm"` // size of a dot; 0 for continuous negatives
	Gain      float64   `json:"dotGain"`  // area that a dot area of a half prints more than it has
	Dots      film.Dots `json:"dots"`     // what was measured of them
	Film      string    `json:"film"`     // what is known of it
	FilmKind  string    `json:"filmKind"` // "inkjet" or "silver"
	FilmMax   float64   `json:"filmMax"`  // its largest UV density
	Measured  bool      `json:"measured"` // it has a table
	WhyUV     string    `json:"whyUv"`
}

// BenchLayer is one layer on the bench.
type BenchLayer struct {
	Printer  string `json:"printer"`
	Exposure string `json:"exposure"` // as it is set at the lamp, "" where the base exposure is not known
	Needs    string `json:"needs"`    // density that its negative must reach
	Third    string `json:"third"`    // what a third of a stop less and more does to a middle grey, as ΔE00
	Coat     string `json:"coat"`     // what its recipe comes to, in words; "" where none is entered
}

// benchOn is all of the session that the bench stands on: where its station is open, all
// of it, else what is told everywhere.
type benchOn struct {
	shown   bool
	session session.State
	print   prints.Print
}

func onBench(in Input) benchOn {
	s := in.Session
	if in.View.Station != "sheets" || !open(s) {
		return benchOn{session: session.State{Negatives: s.Negatives, Workshop: s.Workshop, Palette: s.Palette, OwnPalettes: s.OwnPalettes}}
	}
	return benchOn{true, *s, in.Prints.Likely()}
}

func makeBench(on benchOn) Bench {
	s := &on.session
	n, f := s.Setup(), s.Setup().Film
	palette, _ := s.PaletteByID(s.Palette)
	out := Bench{
		Setup: Setup{
			PPI: n.PPI, Side: n.Side, Trim: n.Trim, Allowance: n.Allowance, Marks: n.Marks, SafeEdge: n.SafeEdge, Punch: n.Punch, Sheet: n.Sheet, Offsets: n.Offsets, Screen: n.Screen, Gain: n.Gain, Dots: n.Dots,
			Film: filmWords(f), FilmKind: f.Kind, FilmMax: f.Max, Measured: len(f.Table) > 0, WhyUV: film.WhyUV,
		},
		Lies: []string{}, Mind: []string{}, Toxic: append([]string{}, export.ToxicNotes(palette)...), Workshop: s.Works(), Sheets: []Named{{"", "smallest that holds it"}},
	}
	for _, sheet := range negative.Sheets() {
		out.Sheets = append(out.Sheets, Named{sheet.ID, sheet.Name})
	}
	for i := range out.Layers {
		out.Layers[i].Printer = pigment.Printer(i).String()
		out.Layers[i].Coat = coatWords(out.Workshop.Layers[i])
	}
	if on.shown {
		out.work(s, on.print.Printing)
	}
	return out
}

// work fills in what needs the optics.
func (b *Bench) work(s *session.State, p *picture.Printing) {
	setup, layout, way := s.Setup(), export.NegativeLayout(s), p.Way(s)
	b.Lies = setup.Lies(s.Transfer())
	w, h := layout.SizeMM()
	_, b.Size, b.Fits = setup.SheetFor(w, h)
	b.Mind = append(b.Mind, export.NegativeNotes(s, p)[1:]...) // the sheet is said by itself
	for i, l := range p.Relief(s, way) {
		one := &b.Layers[i]
		one.Exposure = s.Works().Exposed(i, s.Way.Stops[i])
		one.Needs = fmt.Sprintf("%.2f", max(export.ThresholdDensity(l), 0))
		var off [2]float64
		for k, stops := range [2]float64{-relief.Third, relief.Third} {
			other := way
			other.Stops[i] += stops
			off[k] = spectrum.DeltaE00(p.Grey(s, way, relief.MidGrey), p.Grey(s, other, relief.MidGrey))
		}
		one.Third = fmt.Sprintf("%.0f / %.0f", off[0], off[1])
	}
}

// weighedArea is the area, in cm², that a coat is checked on by weighing.
const weighedArea = 100

// coatWords says what a coat's recipe comes to, how to check it, and its load by a drawdown.
func coatWords(s workshop.Sensitised) string {
	if !s.Coat.Given() {
		return ""
	}
	out := fmt.Sprintf("%s. Check: %d cm² of it weigh %.2f g dry, less its backing.", s.Coat.Words(), weighedArea, s.Coat.Weighed(weighedArea))
	if load, ok := s.Load(); ok {
		out += fmt.Sprintf(" By its drawdown its load is %.2f.", load)
	}
	return out
}

func filmWords(f film.Film) string {
	if len(f.Table) == 0 {
		return fmt.Sprintf("Not measured: taken as linear up to a UV density of %.3g.", f.Max)
	}
	by := map[string]string{film.UV: "UV", film.Visual: "visual", film.Status: "status"}[f.Measured]
	more := ""
	if f.AtLeast() {
		more = " or more"
	}
	return fmt.Sprintf("Measured: %d steps, %s density up to %.2f%s.", len(f.Table), by, f.Max, more)
}
