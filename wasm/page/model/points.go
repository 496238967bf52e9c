package model

import (
	"math"

	"threeply/proof/affine"
	"threeply/proof/cube"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Points are the places whose colours are read, and where they lie in each frame.
type Points struct {
	Points      []Point           `json:"points"`
	PointFrames [][]view.PaneGrey `json:"pointFrames"` // as Stage.Frames
}

// Point is one place: what each picture shows there, and what the print is like.
type Point struct {
	N       int      `json:"n"`
	Colours []Colour `json:"colours"`
	Read
}

// Read is what is read at a pixel of the key.
type Read struct {
	X      int         `json:"x"`
	Y      int         `json:"y"`
	Prints []PrintRead `json:"prints"` // each print that is looked at there; the likely one where none is
}

// PrintRead is what one print is like there.
type PrintRead struct {
	ID       string             `json:"id"`
	Label    string             `json:"label"`
	Um       map[string]float64 `json:"um"`       // dry heights by printer
	Visual   float64            `json:"visual"`   // ISO 5-3 density
	Spectrum []float64          `json:"spectrum"` // reflectance at equal steps from 380 to 730 nm
	Reach    string             `json:"reach"`    // whether it can have the reference's colour there, else by how much not and why; "" of variants of the likely print
}

// Colour is what one picture shows at a point.
type Colour struct {
	ID    string       `json:"id"`
	Label string       `json:"label"`
	Hex   string       `json:"hex"`
	Lab   spectrum.Lab `json:"lab"`
	DE    float64      `json:"dE"` // ΔE00 to the first picture
}

// pointsOn is all that the points stand on.
type pointsOn struct {
	points  []view.Point
	view    view.View
	session session.State // see layingOf; with the hidden layers
	planes  [3]*plane.Plane
	panes   []paneRead
	likely  paneRead
}

// paneRead is a picture whose colours are read.
type paneRead struct {
	id, label string
	shows     view.Shows
	print     prints.Print
	masks     *mask.Matrix
	shell     *reach.Shell // what the print can show; nil where that is not asked
}

func onPoints(in Input) pointsOn {
	points := view.Points(in.Session)
	if !in.Plates.Open() || len(points) == 0 {
		return pointsOn{}
	}
	return readingsOf(in, points)
}

// readingsOf is all that colours at some points stand on.
func readingsOf(in Input, points []view.Point) pointsOn {
	on := pointsOn{points: points, view: panesOf(in.View), session: layingOf(in.Session), planes: in.Plates.Level(0)}
	on.session.Hidden = in.Session.Hidden
	read := func(p view.Pane) paneRead {
		one := paneRead{id: p.ID, label: p.Label, shows: p.Shows, print: in.Prints.Of(in.Session, p.Variant), masks: in.Prints.Masks(p.Masking)}
		switch p.Variant {
		case picture.VariantLikely, picture.VariantHeldLeft, picture.VariantHeldRight:
			one.shell = in.Prints.Shell(in.Session, p.Variant)
		}
		return one
	}
	for _, p := range in.View.ReadPanes() {
		on.panes = append(on.panes, read(p))
	}
	on.likely = read(view.Pane{ID: view.SidePrint, Label: "Likely print", Shows: view.ShowsPrint})
	return on
}

func makePoints(on pointsOn) Points {
	out := Points{Points: []Point{}, PointFrames: [][]view.PaneGrey{}}
	for _, p := range on.points {
		out.Points = append(out.Points, on.at(p))
	}
	if len(on.points) > 0 {
		for _, p := range on.view.Panes() {
			out.PointFrames = append(out.PointFrames, on.view.PointsIn(p, on.points))
		}
	}
	return out
}

// at reads one point.
func (on *pointsOn) at(p view.Point) Point {
	x, y := math.Round(p.X), math.Round(p.Y)
	out := Point{N: p.N, Colours: []Colour{}, Read: Read{X: int(x), Y: int(y), Prints: []PrintRead{}}}
	for _, pane := range on.panes {
		c, read := on.colour(pane, x, y)
		if len(out.Colours) > 0 {
			c.DE = spectrum.DeltaE00(out.Colours[0].Lab, c.Lab)
		}
		out.Colours = append(out.Colours, c)
		if read != nil {
			out.Prints = append(out.Prints, *read)
		}
	}
	if len(out.Prints) == 0 {
		_, read := on.colour(on.likely, x, y)
		out.Prints = append(out.Prints, *read)
	}
	return out
}

// printed is the print of a pane at a pixel of the key: its colour, its reflectance, and
// the thickness of each layer, in coats.
func (on *pointsOn) printed(pane paneRead, x, y float64) (lab spectrum.Lab, r spectrum.Curve, thickness [3]float64) {
	pic := picture.Assemble(&on.session, pane.print.Masked(pane.masks), pane.print.Curves, on.planes, affine.Identity, 0)
	for i, q := range pic.Coordinates(x, y) { // 0 of hidden layers
		thickness[i] = cube.Thickness(float64(q))
	}
	r = pane.print.Recipe.Reflectance(thickness)
	return pane.print.Light.Lab(r), r, thickness
}

// colour is what a pane shows at a pixel of the key, and what the print is like there where it
// shows one.
func (on *pointsOn) colour(pane paneRead, x, y float64) (Colour, *PrintRead) {
	c := Colour{ID: pane.id, Label: pane.label}
	if pane.shows != view.ShowsReference {
		lab, r, thickness := on.printed(pane, x, y)
		c.Lab, c.Hex = lab, prints.Hex(r, pane.print.Light)
		read := &PrintRead{ID: pane.id, Label: pane.label, Um: map[string]float64{}, Visual: spectrum.VisualDensity(r), Spectrum: make([]float64, len(r))}
		for i, v := range r {
			read.Spectrum[i] = math.Round(1e4*v) / 1e4
		}
		if pane.shell != nil {
			reference, _ := on.colour(paneRead{shows: view.ShowsReference, print: pane.print}, x, y)
			read.Reach = picture.ReachWords(pane.print.Scale.Onto(reference.Lab), pane.shell)
		}
		for i := range pigment.Printer(3) {
			read.Um[i.String()] = thickness[i] * pane.print.Recipe.Palette.Layer(i).CoatMicron
		}
		return c, read
	}
	pic := picture.Assemble(&on.session, pane.print.Printing, pane.print.Curves, on.planes, affine.Identity, 0)
	pic.Show = nil
	var linear [3]float64
	for i, v := range pic.At(render.Reference, x, y) {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	c.Hex, c.Lab = spectrum.HexSRGB(linear), spectrum.SRGBLab(linear)
	return c, nil
}

// Peek reads the colours at a pixel of the key without holding a point there.
func Peek(in Input, x, y float64) Point {
	on := readingsOf(in, nil)
	return on.at(view.Point{X: x, Y: y})
}
