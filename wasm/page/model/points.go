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

// Read is what is read at a pixel of the key of the print that is worked on.
type Read struct {
	X        int                `json:"x"`
	Y        int                `json:"y"`
	Um       map[string]float64 `json:"um"`       // dry heights by printer
	Visual   float64            `json:"visual"`   // ISO 5-3 density
	Spectrum []float64          `json:"spectrum"` // reflectance at equal steps from 380 to 730 nm
	Reach    string             `json:"reach"`    // whether the reference can be printed there, else by how much not and why
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
	shell   *reach.Shell
}

// paneRead is a picture whose colours are read.
type paneRead struct {
	id, label string
	shows     view.Shows
	print     prints.Print
	masks     *mask.Matrix
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
	on := pointsOn{points: points, view: panesOf(in.View), session: layingOf(in.Session), planes: in.Plates.Level(0), shell: in.Prints.Shell()}
	on.session.Hidden = in.Session.Hidden
	read := func(p view.Pane) paneRead {
		return paneRead{p.ID, p.Label, p.Shows, in.Prints.Of(in.Session, p.Variant), in.Prints.Masks(p.Masking)}
	}
	for _, p := range in.View.ReadPanes() {
		on.panes = append(on.panes, read(p))
	}
	on.likely = read(view.Pane{Shows: view.ShowsPrint})
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
	out := Point{N: p.N, Colours: []Colour{}, Read: Read{X: int(x), Y: int(y), Um: map[string]float64{}}}
	for _, pane := range on.panes {
		c := on.colour(pane, x, y)
		if len(out.Colours) > 0 {
			c.DE = spectrum.DeltaE00(out.Colours[0].Lab, c.Lab)
		}
		out.Colours = append(out.Colours, c)
	}
	_, r, thickness := on.printed(on.likely, x, y)
	out.Visual = spectrum.VisualDensity(r)
	out.Spectrum = make([]float64, len(r))
	for i, v := range r {
		out.Spectrum[i] = math.Round(1e4*v) / 1e4
	}
	for i := range pigment.Printer(3) {
		out.Um[i.String()] = thickness[i] * on.likely.print.Recipe.Palette.Layer(i).CoatMicron
	}
	wanted := on.likely.print.Scale.Onto(on.colour(paneRead{shows: view.ShowsReference, print: on.likely.print}, x, y).Lab)
	out.Reach = picture.ReachWords(wanted, on.shell)
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

func (on *pointsOn) colour(pane paneRead, x, y float64) Colour {
	c := Colour{ID: pane.id, Label: pane.label}
	if pane.shows != view.ShowsReference {
		var r spectrum.Curve
		c.Lab, r, _ = on.printed(pane, x, y)
		c.Hex = prints.Hex(r, pane.print.Light)
		return c
	}
	pic := picture.Assemble(&on.session, pane.print.Printing, pane.print.Curves, on.planes, affine.Identity, 0)
	pic.Show = nil
	var linear [3]float64
	for i, v := range pic.At(render.Reference, x, y) {
		linear[i] = spectrum.DecodeSRGB(float64(v))
	}
	c.Hex, c.Lab = spectrum.HexSRGB(linear), spectrum.SRGBLab(linear)
	return c
}

// Peek reads the colours at a pixel of the key without holding a point there.
func Peek(in Input, x, y float64) Point {
	on := readingsOf(in, nil)
	return on.at(view.Point{X: x, Y: y})
}
