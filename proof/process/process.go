// Package process makes the sheet that a carbon print is made by: leaves for dry and for
// wet hands, a step a line, with times, boxes to tick, room for clock times, and what can
// hurt where it can hurt.
//
// Times and orders of the work are common practice, but for those that a workshop has set.
package process

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/transfer"
	"threeply/proof/workshop"
)

// Sheet is all that stands on the leaves.
type Sheet struct {
	Title, Number, Date, Tool string
	Size                      string // of the print
	Facts                     []Fact
	Layers                    []Layer // in the order in which they are put down
	Supports                  []Support
	Key                       []string // of register on the bench
	Climate                   []string
	Materials                 []string
	Hours                     string
	Tests                     []string // what to find out first; none where all exposures are known
	Dangers                   []string // in full
	Mind                      []string
	Rests                     []string
	Plates                    [][2]string // file and SHA-256
	Turns                     []Leaf      // of the whole stack
	End                       Leaf
}

// Fact is a line of the first leaf. Own says that it holds a name of the user's own.
type Fact struct {
	Name, Says string
	Own        bool
}

// Layer is one layer's leaves.
type Layer struct {
	Name     string
	Printer  pigment.Printer
	Tissue   string
	Exposure string // in the workshop's unit, "" where it is not known
	Minutes  string // the same in minutes and seconds, where it is long
	Stops    string
	Third    [4]string // ΔE00 of a third of a stop more in a light and a middle grey, and of a third less
	Range    string    // of the negative
	Bath     string
	Coat     string
	Dry, Wet Leaf

	Lines []Line // the hatching
	Dots  []Dot
}

// Leaf is a list of steps.
type Leaf struct {
	Title string
	Steps []Step
}

// Step is one line.
type Step struct {
	Do     string
	Time   string   // large; "" for none
	Small  string   // under it
	Write  []string // what is written down by hand
	Danger string
	Letter string // how the letter F reads there: "right", "mirrored", or "" where it is not seen
}

// Support is how the stack lies on one support. Own says that the user named it.
type Support struct {
	Name, Layers, Letter string
	Own                  bool
}

// Of makes the sheet of a session with plates. Its errors are those of a session without
// them, and Prepare's.
func Of(s *session.State, made label.Made) (*Sheet, error) {
	if s.Sources[0].W == 0 {
		return nil, fmt.Errorf("the session has no plates, so there is nothing to print; open plates first, and save the session then")
	}
	unmasked := *s
	unmasked.Masked = false // masks move tones a little, not the exposures
	p, err := picture.Prepare(&unmasked)
	if err != nil {
		return nil, err
	}
	route := s.Transfer()
	b := builder{session: s, works: s.Works(), printing: p, route: route, put: transfer.PutDown(route, p.Recipe.Order[:]), steps: transfer.Steps(route, p.Recipe.Order[:])}
	_, w, h := export.PrintArea(s)
	sheet := &Sheet{
		Title: s.Title, Number: s.Identity.Number, Date: made.At.Format("2 January 2006"), Tool: made.Tool,
		Size: fmt.Sprintf("%.0f × %.0f mm", w, h),
	}
	b.head(sheet)
	for i := range b.put {
		sheet.Layers = append(sheet.Layers, b.layer(i))
	}
	for i, step := range b.steps {
		sheet.Supports = append(sheet.Supports, Support{step.Support, names(step.Layers, " → "), reads(step.Right), s.Route == transfer.Own})
		if i > 0 {
			sheet.Turns = append(sheet.Turns, b.turn(i))
		}
	}
	sheet.End = b.end()
	return sheet, nil
}

type builder struct {
	session  *session.State
	works    workshop.Workshop
	printing *picture.Printing
	route    transfer.Route
	put      []pigment.Printer
	steps    []transfer.Step[pigment.Printer]
}

func names(layers []pigment.Printer, between string) string {
	var out []string
	for _, l := range layers {
		out = append(out, l.String())
	}
	return strings.Join(out, between)
}

func reads(right bool) string {
	if right {
		return "right"
	}
	return "mirrored"
}

// minutes writes a time, large on its line.
func minutes(v float64) string { return fmt.Sprintf("%.3g min", v) }

// head fills the first leaf.
func (b *builder) head(to *Sheet) {
	s := b.session
	setup, layout := s.Setup(), export.NegativeLayout(s)
	wide, high := layout.SizeMM()
	film, words, _ := setup.SheetFor(wide, high)
	r := b.printing.Recipe
	to.Facts = []Fact{
		{"Palette", r.Palette.Name, s.OwnPalette(s.Palette) >= 0},
		{Name: "Put down", Says: names(b.put, ", then ")},
		{Name: "In the print, from the paper", Says: names(r.Order[:], ", ")},
		{Name: "Route", Says: b.route.Name},
		{"Paper", r.Paper.Name, s.OwnPaper(s.Paper) >= 0},
		{Name: "Surface", Says: b.route.OuterSurface()},
		{Name: "Negatives", Says: negative.Kind(layout.Mirrored) + ", " + setup.SideName() + " to the tissue"},
		{Name: "Thickest layer", Says: fmt.Sprintf("%.0f %% of its coat", 100*b.printing.Limit)},
	}
	to.Mind = append(to.Mind, words)
	for _, note := range export.PrintNotes(s) {
		if !strings.Contains(note, "TOXIC") {
			to.Mind = append(to.Mind, note)
		}
	}
	if note := export.NotInRegister(s); note != "" {
		to.Mind = append(to.Mind, note)
	}
	to.Key = KeyWords(b.put, b.works.Register)
	to.Climate = b.climate()
	sheets := "3 sheets of film, " + film.Name
	if film.Name == "" {
		sheets = fmt.Sprintf("3 films of %.0f × %.0f mm", math.Ceil(wide), math.Ceil(high))
	}
	window := layout.Opaque
	mm := func(px int) float64 { return math.Ceil(float64(px) / layout.PPI * 25.4) }
	to.Materials = []string{
		sheets,
		fmt.Sprintf("3 tissues, %s, of %.0f × %.0f mm: as large as the safe edge, no larger", names(b.put, ", "), mm(window.W()), mm(window.H())),
	}
	for i, support := range b.route.Supports {
		larger := 20.0
		if i == len(b.route.Supports)-1 {
			to.Materials = append(to.Materials, fmt.Sprintf("%s (%s), %.0f × %.0f mm or larger", support, r.Paper.Name, mm(window.W())+larger, mm(window.H())+larger))
			continue
		}
		to.Materials = append(to.Materials, fmt.Sprintf("%s, %.0f × %.0f mm or larger", support, mm(window.W())+larger, mm(window.H())+larger))
	}
	to.Materials = append(to.Materials,
		fmt.Sprintf("alum, %.3g g in each litre", 10*b.works.Process.Alum),
		"sensitiser, gloves, thermometer, hygrometer, clock, blotters, squeegee")
	to.Hours = b.hours()
	to.Tests = b.tests()
	to.Dangers = append([]string{
		"UV lamps harm eyes and skin: do not look into the light, cover skin, and air the room where a lamp makes ozone.",
		"Dichromate sensitisers are toxic, cause cancer, can damage genes and fertility, are fatal if inhaled and sensitise the skin; they are restricted in many places. Treat diazo sensitisers by their data sheet.",
		"Hot water scalds. Glass under vacuum can implode: look it over for scratches and chips, wear eye protection.",
	}, export.ToxicNotes(r.Palette)...)
	to.Dangers = append(to.Dangers, "Follow the safety data sheets, local rules and licensed practice; this sheet replaces none of them.")
	to.Rests = []string{export.RestsOn(b.printing.Recipe.Palette), export.WayWords(b.printing.Way(s)), export.NeutralWords(s), "Times and temperatures are common practice, unless this workshop has set them."}
	for _, f := range filter.All {
		src := s.Sources[s.Assign[f]]
		sum := src.SHA256
		if sum == "" {
			sum = "its content is not known"
		}
		to.Plates = append(to.Plates, [2]string{fmt.Sprintf("%s filter: %s", f, src.File), sum})
	}
}

// KeyWords says how the layers are registered on the bench: which of them can be laid to,
// on a route that puts them down in this order.
func KeyWords(put []pigment.Printer, by string) []string {
	out := []string{fmt.Sprintf("The %s layer is put down first. It is laid to nothing: the others are laid to what lies there already.", put[0])}
	switch {
	case put[0] == pigment.Yellow:
		out = append(out, fmt.Sprintf("Yellow is too faint to register to by eye: lay the %s layer to it under blue light, in which yellow looks dark, or by pins; then lay %s to %s. Or take the route that begins with cyan.", put[1], put[2], visible(put[:2])))
	case put[1] == pigment.Yellow:
		out = append(out, fmt.Sprintf("%s is the key: lay yellow and %s to it. Yellow itself is hard to see: judge it by blue light, or use pins.", title(put[0].String()), put[2]))
	default:
		out = append(out, fmt.Sprintf("%s is the key: lay %s and yellow to it. Yellow itself is hard to see: judge it by blue light, or use pins.", title(put[0].String()), put[1]))
	}
	if by == workshop.ByPins {
		return append(out, "By pins: punch all films, tissues and the support in one pass, 6 mm, a round hole and a slot, and lay them on the same pins every time.")
	}
	return append(out, "By marks: the crosses at the corners and the middles of the sides must cover each other; the middles show a turn, the corners a stretch.")
}

func visible(put []pigment.Printer) pigment.Printer {
	if put[0] == pigment.Yellow {
		return put[1]
	}
	return put[0]
}

func title(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// climate says how far the films and the paper move.
func (b *builder) climate() []string {
	_, w, h := export.PrintArea(b.session)
	long, g := max(w, h), b.works.Grows
	const swing = 10.0 // % of relative humidity
	out := []string{fmt.Sprintf("Hold films, tissues, supports and paper in one climate for %.3g h before they are punched, registered or printed: %.0f %% relative humidity.", b.works.Process.Condition, b.works.Process.Humidity)}
	out = append(out, fmt.Sprintf("%.0f %% more humidity moves %.0f mm of film by %.2f mm.", swing, long, workshop.Slip(long, max(g.FilmAlong, g.FilmAcross), swing)))
	if paper := max(g.PaperAlong, g.PaperAcross); paper > 0 {
		out = append(out, fmt.Sprintf("It moves the paper by up to %.2f mm.", workshop.Slip(long, paper, swing)))
	} else {
		out = append(out, "Paper moves a hundred times as much, by millimetres when it is wet: register on film or another support that stays, never on damp paper.")
	}
	if len(b.route.Supports) == 1 {
		out = append(out, "On this route each layer goes straight onto the paper, which grows in every bath: its grain must run the same way every time, and each layer be mated at the same dampness.")
	}
	return out
}

// hours says how long the work takes, roughly: drying as handbooks have it, 5 to 8 hours
// for a sensitised tissue (American Carbon Manual), 2 for a layer on its support (common
// practice).
func (b *builder) hours() string {
	p := b.works.Process
	const washing, rinsing = 15, 10 // min
	wet := 3 * (p.Soak + p.Mate + washing + rinsing + p.AlumTime) / 60
	turns := float64(len(b.steps) - 1)
	bench := wet + 3*0.75 + turns // coating aside
	days := 1 + math.Ceil(p.Condition/24) + turns
	return fmt.Sprintf("About %.0f hours at the bench, over %.0f days or more: each sensitised tissue dries 5 to 8 h, each layer on its support about 2 h, and each turn of the stack must be thoroughly dry.", math.Ceil(bench), days)
}

// tests say in which order to find out what is not known.
func (b *builder) tests() []string {
	for _, l := range b.works.Layers {
		if l.Exposure == 0 {
			return []string{
				"1. Clear film, each tissue: the shortest time that prints full black through clear film and base, in half stops. That is its base exposure.",
				"2. Range, each tissue: a wedge of 0.05 at the base exposure. The last step that holds in the wash gives the density that the whites need.",
				"3. Threshold, each tissue: the wedge of 0.02 about that density. It tells where highlights are lost.",
				"4. Curve: enter what the wedge printed, make new negatives, and print the three grey wedges over each other.",
				"Both wedges stand on every negative, inside the window, so that each print is a test as well.",
			}
		}
	}
	return nil
}

// layer makes the leaves of the layer that is put down as number i.
func (b *builder) layer(i int) Layer {
	printer := b.put[i]
	s, works := b.session, b.works.Layers[printer]
	tissue := b.printing.Recipe.Palette.Layer(printer)
	relief := b.printing.Relief(s, b.printing.Way(s))[printer]
	l := Layer{Name: printer.String(), Printer: printer, Tissue: tissueWords(tissue), Exposure: b.works.AtLamp(int(printer), s.Way.Stops[printer]), Minutes: b.works.Minutes(int(printer), s.Way.Stops[printer])}
	l.hatch()
	if stops := s.Way.Stops[printer]; stops != 0 {
		l.Stops = fmt.Sprintf("%+.2f stops", stops)
	}
	l.Third = thirds(b.printing, s, printer)
	l.Range = fmt.Sprintf("%.2f", max(export.ThresholdDensity(relief), 0))
	if works.Sensitiser != "" {
		l.Bath = works.Sensitiser
		if works.Strength > 0 {
			l.Bath += fmt.Sprintf(", %.3g %%", works.Strength)
		}
	}
	if works.Coat.Given() {
		l.Coat = works.Coat.Words()
	}
	onTissue := reads(!b.steps[0].Right)
	l.Dry = Leaf{Title: "Dry side", Steps: b.dry(l, works, tissue, onTissue)}
	l.Wet = Leaf{Title: "Wet side", Steps: b.wet(i, onTissue)}
	return l
}

// tissueWords are a tissue's pigments and its coat.
func tissueWords(t pigment.Tissue) string {
	var out []string
	for _, share := range t.Pigments {
		g, ok := pigment.PigmentByCI(share.CI)
		if !ok {
			continue
		}
		if name := g.Name + " (" + g.CI + ")"; len(t.Pigments) > 1 {
			out = append(out, fmt.Sprintf("%s %.0f %%", name, 100*share.Share))
		} else {
			out = append(out, name)
		}
	}
	return fmt.Sprintf("%s; load %.3g, %.3g µm dry", strings.Join(out, " + "), t.Load, t.CoatMicron)
}

// thirds is what a third of a stop more, and then less, of one layer does to a light and to
// a middle grey, as ΔE00.
func thirds(p *picture.Printing, s *session.State, printer pigment.Printer) [4]string {
	way := p.Way(s)
	off := func(u, stops float64) string {
		w := way
		w.Stops[printer] += stops
		return fmt.Sprintf("%.1f", spectrum.DeltaE00(p.Grey(s, way, u), p.Grey(s, w, u)))
	}
	return [4]string{off(0.2, relief.Third), off(relief.MidGrey, relief.Third), off(0.2, -relief.Third), off(relief.MidGrey, -relief.Third)}
}
