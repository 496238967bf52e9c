// Package origin tells what of a picture is original and what is interpretation: a log
// made from the session, in which every line says whether it was measured, assumed or
// chosen, and by whom.
package origin

import (
	"fmt"
	"strings"
	"time"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/stack"
)

// Kind is where a line of the log comes from.
type Kind string

const (
	Measured Kind = "measured" // read from the scans, or from a print by an instrument
	Assumed  Kind = "assumed"  // nobody measured it: a table, a prior, a habit of the trade
	Chosen   Kind = "chosen"   // somebody's decision
)

// Line is one thing that the picture rests on.
type Line struct {
	Kind  Kind   `json:"kind"`
	About string `json:"about"`
	Says  string `json:"says"`
	By    string `json:"by"` // a person as they signed, “a person” who did not, “the tool”, or a source

	Own    bool `json:"own"`    // Says is what a person wrote
	Signed bool `json:"signed"` // By is what a person wrote
}

// Part is the lines of the log of one kind.
type Part struct {
	Heading string `json:"heading"`
	Lines   []Line `json:"lines"`
}

// Parts parts the log into what is original and what is interpretation; a part without lines
// is there too.
func Parts(s *session.State) []Part {
	out := []Part{{Heading: "Measured, from the plates themselves"}, {Heading: "Assumed, for nobody has measured it"}, {Heading: "Chosen, by whoever interpreted it"}}
	place := map[Kind]int{Measured: 0, Assumed: 1, Chosen: 2}
	for _, l := range Of(s) {
		i := place[l.Kind]
		out[i].Lines = append(out[i].Lines, l)
	}
	return out
}

const (
	tool   = "the tool"
	person = "a person, unnamed"
)

// Of makes the log of a session with plates: from the glass to the decision.
func Of(s *session.State) []Line {
	var l log
	for _, f := range filter.All {
		l.plate(s, f)
	}
	l.register(s)
	l.films(s)
	l.print(s)
	l.said(s)
	return l
}

type log []Line

func (l *log) add(kind Kind, about, by, says string, of ...any) {
	*l = append(*l, Line{Kind: kind, About: about, Says: fmt.Sprintf(says, of...), By: by})
}

func (l *log) plate(s *session.State, f filter.Filter) {
	i := s.Assign[f]
	src, about := &s.Sources[i], f.String()+" plate"
	l.add(Measured, about, "the scan", "%s, %d × %d pixels of %d bits", src.File, src.W, src.H, src.Bits)
	if id := s.PlateIdentities[i]; id != (session.PlateIdentity{}) {
		l.add(Measured, about, person, "the glass itself: %s", joined(prefixed("marked ", id.Letter), id.Condition))
	}
	switch src.Scan.Known {
	case "profile", "declared":
		l.add(Measured, about, "the scan", "its codes are read as its file says: %s", src.Encoding)
	case "chosen":
		l.add(Chosen, about, person, "its codes are read as %s", src.Encoding)
	default:
		l.add(Assumed, about, tool, "its codes are read as %s, which its file does not say", src.Encoding)
	}
	kind := "positive"
	if src.Film.Negative {
		kind = "negative"
	}
	if src.Overruled {
		l.add(Chosen, about, person, "it is a %s, against what the scan suggests", kind)
	} else {
		l.add(Measured, about, tool, "it is a %s, %.0f %% sure", kind, 100*src.Sure)
	}
	l.add(Chosen, about, "the file's name, or whoever opened it", "it was taken through the %s filter and prints %s", f, f.Printer())
}

func (l *log) register(s *session.State) {
	for _, f := range filter.All {
		i, about := s.Assign[f], "register of the "+f.String()+" plate"
		found := s.Found[i]
		switch place.WayOf(s, i) {
		case place.WayKey:
			by := person
			if s.Key == session.DefaultKey {
				by = "by default, or by a person"
			}
			l.add(Chosen, about, by, "it is the key: it keeps its own pixels")
		case place.WayFound:
			l.add(Measured, about, tool, "found with a confidence of %.2f; %.2f pixels are left in the middle, %.2f at most", found.Confidence, found.Median, found.Max)
		case place.WayMarks:
			l.add(Chosen, about, person, "laid by %d marks", len(s.Marks))
		case place.WayBoth:
			l.add(Chosen, about, person, "found with a confidence of %.2f and laid by %d marks together", found.Confidence, len(s.Marks))
		case place.WayHand:
			l.add(Chosen, about, person, "laid by hand")
		default:
			l.add(Assumed, about, tool, "not registered: it lies as it was scanned")
		}
		if place.Local(s, i) != nil {
			l.add(Measured, about, tool, "smoothly bent to follow film that shrank unevenly")
		}
	}
	if s.Carried {
		l.add(Assumed, "register", tool, "carried over from a session that could not be compared with these scans")
	}
	for _, p := range pigment.Printers() {
		if o := s.Offsets[p]; o != (session.Offset{}) {
			l.add(Chosen, "offset of the "+p.String()+" layer", person, "%+.0f µm to the right, %+.0f µm down, turned %+.3f°, stretched %+.3f %%", o.DX, o.DY, o.Turn, o.Stretch)
		}
		if s.Hidden[p] {
			l.add(Chosen, "layers", person, "the %s layer is hidden and left out of every picture", p)
		}
	}
}

func (l *log) films(s *session.State) {
	kind, by := Assumed, tool
	switch n := s.Neutral; {
	case n.By == session.ByGreys:
		kind, by = Measured, "greys that a person pointed at"
	case n.By == session.ByScale:
		kind, by = Measured, "the grey scale in the scene"
	case n.By == session.ByHand:
		kind, by = Chosen, person
	case n.Chosen:
		by = person
	}
	l.add(kind, "neutrals", by, "%s", export.NeutralWords(s))
	for _, f := range filter.All {
		film := s.Sources[s.Assign[f]].Film
		says := fmt.Sprintf("white at density %.2f, black at %.2f, contrast γ %.2f", film.White, film.Black, film.Gamma)
		switch {
		case s.Neutral.By == session.ByHand:
			l.add(Chosen, "film of the "+f.String()+" plate", person, "%s", says)
		case s.Neutral.Absolute():
			l.add(Measured, "film of the "+f.String()+" plate", "the grey scale's steps", "%s", says)
		case len(s.Neutral.Greys) > 0:
			l.add(Assumed, "film of the "+f.String()+" plate", tool, "%s; the greys tell the contrasts against each other, not how steep all are", says)
		default:
			l.add(Assumed, "film of the "+f.String()+" plate", tool, "%s; the contrast is a habit of the trade", says)
		}
	}
}

func (l *log) print(s *session.State) {
	palette, _ := s.PaletteByID(s.Palette)
	paper, _ := s.PaperByID(s.Paper)
	finish, _ := stack.FinishByID(s.Finish)
	shown := s.Shown()
	l.add(Chosen, "print", person, "%s", shown.Words)
	for _, p := range pigment.Printers() {
		tissue, about := palette.Layer(p), p.String()+" tissue"
		m := palette.Measured
		spectra := m != nil && tissue.Measured != nil && m.TellsSpectra()
		for _, share := range tissue.Pigments {
			if g, _ := pigment.PigmentByCI(share.CI); !spectra {
				l.add(Assumed, about, "published or remembered spectra", "%s, %s: %s", g.Name, share.CI, g.Status)
			}
		}
		if h := tissue.Hardening; m != nil && m.Way == pigment.Eye && len(h.Wedge) > 0 {
			l.add(Assumed, about, person, "its load, and how it hardens in the light: judged by eye %s on a test sheet", m.Date)
		} else if m != nil && tissue.Measured != nil {
			l.add(Measured, about, "the test sheet", "%s", m.Words())
		} else if len(h.Wedge) > 0 || h.DepthMicron != 0 {
			l.add(Measured, about, "whoever made the tissue", "how it hardens in the light")
		} else {
			l.add(Assumed, about, tool, "how it hardens in the light, by its pigments' absorption")
		}
		if f := tissue.Faded; f != nil {
			l.add(Measured, about, person, "how it fades: %.0f %% of a strip were left after %.4g Mlx·h", 100*f.Left, f.Dose)
		}
	}
	if s.OwnPaper(s.Paper) >= 0 {
		l.add(Measured, "paper", person, "%s: %s", paper.Name, paper.Source)
	} else {
		l.add(Assumed, "paper", "the built-in table", "%s: %s", paper.Name, paper.Source)
	}
	l.add(Assumed, "surface", "the built-in table", "%s: how much surface light veils the blacks", finish.Name)
	if s.Unknowns == nil {
		l.add(Assumed, "doubts", tool, "the ranges of the figures rest on the usual doubts")
	} else {
		l.add(Chosen, "doubts", person, "the ranges of the figures rest on doubts that were set")
	}
	l.add(Chosen, "transfer", person, "%s; the key plate's width is %.4g mm", s.Transfer().Name, s.PrintWidth)
}

func (l *log) said(s *session.State) {
	for _, n := range s.Notes {
		if n.State == session.NoteAgreed || n.State == session.NotePrinter {
			l.written(fmt.Sprintf("note %d", n.N), n.By, n.At, joined(n.Title, n.Text))
		}
	}
	if d := s.Decision; d.Choice != "" {
		l.written("decision", d.By, d.Date, joined(d.Choice, d.Reason))
	}
}

// written adds what a person wrote, by and at as they signed it; a moment of the program's is said as a
// date and a time.
func (l *log) written(about, by, at, says string) {
	if moment, err := time.Parse(time.RFC3339, at); err == nil {
		at = moment.UTC().Format(time.DateTime) + " UTC"
	}
	line := Line{Kind: Chosen, About: about, Says: says, By: joined(by, at), Own: true, Signed: by != ""}
	if by == "" {
		line.By = joined(person, at)
	}
	*l = append(*l, line)
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// joined puts a colon between what there is.
func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ": ")
}
