// Package session holds what the user has decided: plain data that is read, written
// and checked here, and changed only by the commands of package command. Where that
// data says that plates and layers lie is worked out in package place, and what to
// think of it in package verdict.
package session

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/balance"
	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/negative"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/survey"
	"threeply/proof/tone"
	"threeply/proof/transfer"
	"threeply/proof/warp"
	"threeply/proof/workshop"
)

// Version is written into every saved session; Read refuses later ones.
const Version = 16

// Source is one plate as it was opened, before it is said which filter it was
// taken through.
type Source struct {
	File      string    `json:"file"`
	SHA256    string    `json:"sha256"` // of the file, in small hexadecimal digits; "" in a session that was kept without
	Part      int       `json:"part"`   // which of the file's exposures or channels it is, from 0
	W         int       `json:"width"`
	H         int       `json:"height"`
	Bits      int       `json:"bits"`
	PPI       float64   `json:"ppi"` // 0 where the file has none
	Encoding  string    `json:"encoding"`
	Film      tone.Film `json:"film"`
	Sure      float64   `json:"polarity_sure"` // of the guess of Film.Negative, 0 … 1
	Overruled bool      `json:"overruled"`     // Film.Negative is the user's, against the guess
	Base      float64   `json:"base"`          // thinnest density of the picture, as found
	Max       float64   `json:"max"`           // densest useful density of the picture, as found
	Area      [4]int    `json:"area"`          // picture within its borders: x0, y0, x1, y1; zero where it is not known
	Remarks   []string  `json:"remarks,omitempty"`

	Rebate float64       `json:"rebate,omitzero"` // density of base and fog as the film beside the picture shows it; 0 where none does
	Scan   fitness.Facts `json:"scan,omitzero"`   // what the scan shows of itself
}

// BaseFog is the density of base and fog: of the rebate where it was found, else
// of the picture's thinnest part.
func (s *Source) BaseFog() (d float64, fromRebate bool) {
	if s.Rebate > 0 {
		return s.Rebate, true
	}
	return s.Base, false
}

// ChosenEncoding is how a person had the codes of the scan read, as scan.Options take it,
// "" where the scan said it or it was assumed: so that it is read the same way again.
func (s *Source) ChosenEncoding() string {
	if chosen, ok := strings.CutSuffix(s.Encoding, asChosen); ok && s.Scan.Known == byChoice {
		return chosen
	}
	return ""
}

// What package scan says of an encoding that was asked for; a test of package intake holds
// them to it.
const (
	asChosen = ", as chosen"
	byChoice = "chosen"
)

// Line is the section's line over the picture, in shares of the key's width
// and height.
type Line struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
}

// Sight is what somebody wrote down by eye of the test sheet of a palette, as package fit reads
// it, or will once it is whole.
type Sight struct {
	Palette string `json:"palette"`
	Table   string `json:"table"`
}

// DefaultKey is the filter of the plate that gives the picture its frame where nobody chose
// another.
const DefaultKey = "green"

// State is everything that undo goes back over. The zero State has no plates;
// begin with New. Its slices are never written to in place: a command puts a
// new one there, since the history shares the old.
type State struct {
	Version int       `json:"version"`
	Title   string    `json:"title"`
	Layout  string    `json:"layout"`
	Sources [3]Source `json:"sources"`
	Assign  [3]int    `json:"assign"` // source of the red, green and blue plate
	Split   bool      `json:"split"`  // negatives and positives seem to be mixed; nobody has said yet
	Neutral Neutral   `json:"neutral,omitzero"`
	NoScale bool      `json:"no_scale,omitempty"` // the user does not want the grey scale that the tool saw in the picture

	Registered string        `json:"registered"` // "none" or "auto"
	Carried    bool          `json:"carried"`    // the register is that of scans that could not be compared with these
	Found      [3]Found      `json:"found"`      // by source
	FoundKey   int           `json:"found_key"`  // source that the others were found against, whose pixels are the found frame; -1 for none
	Local      [3]warp.Local `json:"local"`      // smooth rest of each source, W 0 where none was found
	LocalOn    bool          `json:"local_on"`
	LocalOff   [3]bool       `json:"local_off"`       // by source: left as it is where LocalOn
	Outvoted   [3]float64    `json:"outvoted"`        // by source: share of its places, of those measured with certainty, that lie elsewhere
	Tones      [3]float64    `json:"tones"`           // by source: correlation of its densities with those of the plate it was found against
	Survey     [3]survey.Map `json:"survey,omitzero"` // by source: what was measured of it, in pixels of the found frame; nothing of the plate it was found against
	Key        string        `json:"key"`             // filter of the plate that gives the picture its frame

	Marks     []Pinned `json:"marks,omitempty"`
	By        string   `json:"register_by"` // ByRegister, ByMarks or ByBoth
	MarkShare float64  `json:"mark_share"`  // weight of the marks in ByBoth, above 0, below 1

	Offsets [3]Offset `json:"offsets"` // by printer: yellow, magenta, cyan
	Locked  [3]bool   `json:"locked"`
	Grain   string    `json:"grain"` // which way the paper's grain runs: "upright" or "level"
	Bench   string    `json:"bench"` // the layer that the printmaker lays the others against: "magenta" or "cyan"
	Hidden  [3]bool   `json:"hidden"`

	OwnPalettes []pigment.Palette   `json:"own_palettes,omitempty"`
	OwnPapers   []stack.Paper       `json:"own_papers,omitempty"`
	Palette     string              `json:"palette"`
	Sight       *Sight              `json:"sight,omitempty"` // what was written down of a test sheet and not used yet
	Printed     []Printed           `json:"printed_sheets,omitempty"`
	TestSheet   string              `json:"test_sheet,omitempty"` // code of the one of Printed that readings are of; "" for that of the palette
	Order       string              `json:"order"`                // from the paper up
	Paper       string              `json:"paper"`
	Finish      string              `json:"finish"`
	Light       string              `json:"light"`
	Dim         bool                `json:"dim"`    // seen in a gallery of GalleryLux, not on the workshop's bench
	Limit       float64             `json:"limit"`  // thickest layer, relative: what the depth may take of a coat
	Masked      bool                `json:"masked"` // masks correct the plates; else each prints its own layer alone
	Way         relief.Way          `json:"way,omitzero"`
	Unknowns    *spread.Unknowns    `json:"unknowns,omitempty"`   // what a proof rests on without knowing it, as the user has it; nil for spread.Usual
	Exhibition  *pigment.Exhibition `json:"exhibition,omitempty"` // that the print is to be shown in; nil for pigment.UsualExhibition
	Route       string              `json:"route"`
	OwnRoute    []string            `json:"own_route,omitempty"` // supports of the route transfer.Own, in the order that the layers meet them

	Held []HeldPrint `json:"held,omitempty"`

	PrintWidth  float64 `json:"print_width_mm"`
	ViewingDist float64 `json:"viewing_mm"`
	Tolerance   float64 `json:"tolerance_um"` // 0: what the eye sees at the viewing distance
	Section     Line    `json:"section"`

	Identity        Identity         `json:"identity,omitzero"`
	PlateIdentities [3]PlateIdentity `json:"plate_identities,omitzero"` // by source
	Notes           []Note           `json:"notes,omitempty"`
	Points          []Point          `json:"points,omitempty"` // by number
	Decision        Decision         `json:"decision,omitzero"`
	Names           string           `json:"names,omitempty"` // pattern of the names of files that leave; "" for UsualNames

	Negatives *negative.Setup    `json:"negatives,omitempty"` // the printing negatives; nil for negative.Usual
	Workshop  *workshop.Workshop `json:"workshop,omitempty"`  // how they are printed; nil for workshop.Usual
}

// The illuminance on a print, in lux, as it is judged on the bench (ISO
// 3664:2009, P2) and as light-sensitive works are shown (common practice in
// museums).
const (
	BenchLux   = 500
	GalleryLux = 50
)

// New returns the state that a fresh set of plates starts with.
func New() State {
	id := Found{Matrix: affine.Identity}
	return State{
		Version: Version, Title: "Untitled", Assign: [3]int{0, 1, 2}, Registered: "none", FoundKey: -1,
		Found: [3]Found{id, id, id}, Key: DefaultKey, By: ByRegister, MarkShare: 0.5,
		Grain: "upright", Bench: "cyan", Limit: balance.DefaultLimit,
		Palette: "arylide", Order: "ymc", Paper: "sized", Finish: "gloss", Light: "D50", Route: "clear-temporary-paper",
		PrintWidth: 300, ViewingDist: 300, Section: Line{0.15, 0.62, 0.85, 0.62}, // within the borders of most plates
	}
}

// Filters are the names of the taking filters in the order of Assign.
var Filters = [3]string{filter.Red.String(), filter.Green.String(), filter.Blue.String()}

// FilterIndex returns the place of a filter's name in Filters, or -1.
func FilterIndex(name string) int { return slices.Index(Filters[:], name) }

// SourceOf returns the source behind a printer: cyan prints from the red
// plate, magenta from the green, yellow from the blue.
func (s *State) SourceOf(p pigment.Printer) int { return s.Assign[filter.Of(p)] }

// KeySource returns the source of the key plate.
func (s *State) KeySource() int {
	key, _ := filter.Named(s.Key)
	return s.Assign[key]
}

// Frame returns the picture's size in pixels: that of the key plate.
func (s *State) Frame() (w, h int) {
	k := s.Sources[s.KeySource()]
	return k.W, k.H
}

// PixelMicrons returns the size of one pixel of the key on the print, in µm.
func (s *State) PixelMicrons() float64 {
	w, _ := s.Frame()
	return s.PrintWidth * 1000 / float64(max(w, 1))
}

// Transfer is the route that the layers take to the paper.
func (s *State) Transfer() transfer.Route {
	if s.Route == transfer.Own {
		return transfer.OwnRoute(s.OwnRoute)
	}
	route, _ := transfer.RouteByID(s.Route) // the check has seen that there is one
	return route
}

// EyeMicrons is what one arc minute, the acuity of a 20/20 eye, covers at the
// viewing distance, in µm.
func (s *State) EyeMicrons() float64 {
	return s.ViewingDist * 1000 * math.Tan(math.Pi/180/60)
}

// Equal tells whether two states are the same in every part.
func (s State) Equal(o State) bool { return reflect.DeepEqual(s, o) }

// BenchPrinter is the layer that the printmaker lays the others against.
func (s *State) BenchPrinter() pigment.Printer {
	if s.Bench == pigment.Magenta.String() {
		return pigment.Magenta
	}
	return pigment.Cyan
}

// DefaultGamma is the slope that a film is given until it is known: 0.8 is the
// middle of what separation negatives were developed to (0.7 … 0.9, from
// memory); a positive scan is taken as light.
func DefaultGamma(negative bool) float64 {
	if negative {
		return 0.8
	}
	return 1
}

// Doubts are the unknowns of a proof of the session: those of its user, else the usual
// ones. How far the levels of the plates may be off is taken from what their films rest
// on, where that says so.
func (s *State) Doubts() spread.Unknowns {
	u := spread.Usual
	if s.Unknowns != nil {
		u = *s.Unknowns
	}
	if s.Neutral.Unsure > 0 {
		u.Levels = min(s.Neutral.Unsure, spread.MostStops)
	}
	return u
}

// OnShow is the exhibition that fading is told for.
func (s *State) OnShow() pigment.Exhibition {
	if s.Exhibition != nil {
		return *s.Exhibition
	}
	return pigment.UsualExhibition
}

// Files are the names of the scans that the state rests on.
func (s *State) Files() []string {
	var names []string
	for _, src := range s.Sources {
		names = append(names, src.File)
	}
	return names
}
