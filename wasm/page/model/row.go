package model

import (
	"fmt"
	"math"

	"threeply/proof/filter"
	"threeply/proof/place"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/proof/warp"
)

// Row tells of one plate and of the layer that it makes.
type Row struct {
	Filter     string       `json:"filter"`
	Printer    string       `json:"printer"`
	Source     int          `json:"source"`
	Key        bool         `json:"key"`
	Way        place.Way    `json:"way"`
	Polarity   string       `json:"polarity"`
	Found      Lies         `json:"found"`
	NotFound   bool         `json:"notFound"` // it was looked for, and no figure of Found is a measurement
	Pose       session.Pose `json:"pose"`
	PoseWhy    string       `json:"poseWhy"` // why it cannot be placed by hand, or ""
	Confidence float64      `json:"confidence"`
	Words      string       `json:"words"`
	Left       Leftover     `json:"left"`
	Local      Local        `json:"local"`
	Offset     Offset       `json:"offset"`
	Locked     bool         `json:"locked"`
	Bench      bool         `json:"bench"` // the printmaker lays the others against it
	Against    Against      `json:"against"`
}

// Lies is how a plate lies against the key.
type Lies struct {
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
	AcrossPct  float64 `json:"acrossPct"` // the same across and down
	DownPct    float64 `json:"downPct"`
	ShearDeg   float64 `json:"shearDeg"` // what is missing to a right angle
	Mirrored   bool    `json:"mirrored"`
	DXUm       float64 `json:"dxUm"`
	DYUm       float64 `json:"dyUm"`
}

// Quantiles are those of what is left at the places of a plate, in pixels of the key.
type Quantiles struct {
	Median float64 `json:"median"`
	P95    float64 `json:"p95"`
	Max    float64 `json:"max"`
}

// Leftover is what register leaves at a plate.
type Leftover struct {
	Quantiles
	Known    bool    `json:"known"`
	Marks    int     `json:"marks"`
	Measured bool    `json:"measured"` // by what register measured too, not by marks alone
	Local    bool    `json:"local"`
	Outvoted float64 `json:"outvoted"` // share of the places that lie elsewhere
}

// Local is the smooth rest of an unevenly shrunken film.
type Local struct {
	Have   bool      `json:"have"`
	Used   bool      `json:"used"`
	Worth  bool      `json:"worth"`
	Says   string    `json:"says"`
	Before Quantiles `json:"before"`
	After  Quantiles `json:"after"`
}

// Offset is how far the layer lies off register on the print, on purpose.
type Offset struct {
	DXUm       float64 `json:"dxUm"`
	DYUm       float64 `json:"dyUm"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
	AcrossPct  float64 `json:"acrossPct"`
	DXPx       float64 `json:"dxPx"`
	DYPx       float64 `json:"dyPx"`
}

// Against is how the layer lies against the one that the others are laid against.
type Against struct {
	DXUm    float64 `json:"dxUm"`
	DYUm    float64 `json:"dyUm"`
	WorstUm float64 `json:"worstUm"`
	Corner  string  `json:"corner"` // where it is worst, in words
}

func makeRow(s *session.State, f int) Row {
	printer, i, um := filter.Filter(f).Printer(), s.Assign[f], s.PixelMicrons()
	w, h := s.Frame()
	found, o, way := s.Found[i], s.Offsets[printer], place.WayOf(s, i)
	parts := place.Register(s, i).Decompose(float64(w-1)/2, float64(h-1)/2)
	lies := place.PoseIn(parts)
	dx, dy := verdict.Shift(s, i, place.Register(s, i))
	row := Row{
		Filter: session.Filters[f], Printer: printer.String(), Source: i, Key: session.Filters[f] == s.Key, Way: way,
		Polarity: "positive", Pose: place.PoseOf(s, i), Confidence: found.Confidence, Words: found.Words,
		Found: Lies{
			DXPx: dx, DYPx: dy, TurnDeg: lies.Turn, StretchPct: lies.Stretch,
			AcrossPct: 100 * (parts.StretchX - 1), DownPct: 100 * (math.Abs(parts.StretchY) - 1),
			ShearDeg: math.Atan(parts.Shear) * 180 / math.Pi, Mirrored: lies.Mirrored, DXUm: dx * um, DYUm: dy * um,
		},
		NotFound: way == place.WayFound && found.Confidence < register.FoundFrom,
		Local:    makeLocal(s, i),
		Offset:   Offset{o.DX, o.DY, o.Turn, o.Stretch, o.Across, o.DX / um, o.DY / um},
		Locked:   s.Locked[printer], Bench: printer == s.BenchPrinter(),
	}
	rest := verdict.RestOf(s, i)
	row.Left = Leftover{quantilesOf(rest.Residual), rest.Known, rest.Marks, rest.Measured, rest.Local, rest.Outvoted}
	if s.Sources[i].Film.Negative {
		row.Polarity = "negative"
	}
	row.say(s, way, rest.Marks)
	if !row.Bench {
		at := verdict.AgainstBench(s, printer)
		row.Against = Against{at.DX, at.DY, at.Worst, cornerWords(at.X, at.Y)}
	}
	return row
}

// say words how the plate came to lie where it lies.
func (row *Row) say(s *session.State, way place.Way, marks int) {
	const byMarks = "it lies by marks; choose another way of registering first"
	switch way {
	case place.WayKey:
		row.Words = "The key: the others lie against it."
		row.PoseWhy = "the key lies still; the others are placed against it"
	case place.WayNone:
		row.Words = "Not registered yet: it lies as it was scanned."
	case place.WayFound:
		if !place.LocalFits(s) {
			row.Words = "Its figures were measured against the " + place.FoundKey(s) + " plate. Register again to measure against this key."
		}
	case place.WayHand:
		row.Words = "Placed by hand: nothing was measured."
	case place.WayMarks:
		row.Words, row.PoseWhy = fmt.Sprintf("Laid by marks: %d.", marks), byMarks
	case place.WayBoth:
		row.Words, row.PoseWhy = fmt.Sprintf("Laid by register and by marks together: %d.", marks), byMarks
	}
	if words := verdict.Opposed(s, row.Source); words != "" {
		row.Words += " But " + words
	}
}

func cornerWords(x, y float64) string {
	return map[bool]string{true: "lower", false: "upper"}[y > 0] + " " + map[bool]string{true: "right", false: "left"}[x > 0]
}

func quantilesOf(r warp.Residual) Quantiles { return Quantiles{r.Median, r.P95, r.Max} }

func makeLocal(s *session.State, i int) Local {
	l := &s.Local[i]
	return Local{
		Have: verdict.NoLocal(s, i) == "" && l.W != 0, Used: place.Local(s, i) != nil, Worth: l.Worth(), Says: verdict.LocalSays(s, i),
		Before: quantilesOf(l.Before), After: quantilesOf(l.After),
	}
}
