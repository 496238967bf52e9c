package view

import (
	"fmt"
	"image"
	"math"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
)

// Shows is what a pane shows.
type Shows int

const (
	ShowsReference  Shows = iota // the three plates added as light
	ShowsPrint                   // the three layers on the paper
	ShowsEdges                   // the edges of two plates, one light, one dark
	ShowsDifference              // ΔE00 of print to reference
	ShowsPlate                   // one plate as light
	ShowsReach                   // where the reference is out of the print's reach
	ShowsLosses                  // what of one layer the wash takes, and where it blocks
	ShowsOutside                 // where the display does not have the print's colours
)

// Pictures is how many of them there are.
const Pictures = ShowsOutside + 1

// Box is a place on the stage, CSS pixels.
type Box struct{ X, Y, W, H float64 }

func (b Box) holds(x, y float64) bool {
	return x >= b.X && x < b.X+b.W && y >= b.Y && y < b.Y+b.H
}

// Pane is one picture on the stage.
type Pane struct {
	Box
	ID, Label string
	Side      string // "left" or "right" where what it shows can be chosen, "" else
	Shows     Shows

	Plate   pigment.Printer // of ShowsPlate and ShowsLosses: whose plate
	Only    string          // of ShowsPrint: the one layer shown, "" for all
	Variant picture.Variant // of ShowsPrint, ShowsDifference and ShowsOutside
	Masking picture.Masking // of the same
	Against *Against        // of ShowsDifference: the print that it is a difference to, nil for the reference

	// Of panes that stand for parts of one whole pane: the width of that, and how far
	// to the right of its left edge the own one lies.
	wholeW, cutOff float64

	enlarged *enlarged // it has a zoom and a middle of its own; nil for those of the view
	InLoupe  bool      // it is one of the loupe's
	OwnFrame bool      // its pixels are those of the plate as it was scanned, not the key's
}

// Against is a print that another one is held against.
type Against struct {
	Variant picture.Variant
	Masking picture.Masking
}

// enlarged is how a pane with a zoom of its own is looked at.
type enlarged struct {
	x, y   float64       // the pixel in its middle
	zoom   float64       // device pixels a pixel of the key
	linear affine.Matrix // key → what the pane shows, without the shift
}

// Enlarged tells whether the pane has a zoom of its own.
func (p Pane) Enlarged() bool { return p.enlarged != nil }

// How the prints lie on the table, CSS pixels.
const (
	// Paper is the paper that is seen around a picture.
	Paper = 7.0

	edge         = 10.0 // table at its edges
	between      = 12.0 // table between two prints
	leastCaption = 48.0 // above each
	least        = 40.0 // a smaller stage shows nothing
	leastWords   = 200  // two lines of this width hold the words above a print
)

// forWords is how much smaller pictures may be one below the other than side by side, where
// there two lines do not hold the words above them.
const forWords = 0.7

// The plates and the layers by printer.
var (
	platesAsLight = [3]string{"The blue plate, as light", "The green plate, as light", "The red plate, as light"}
	layerNames    = [3]string{"yellow", "magenta", "cyan"}
)

// edgeLabels are the words above the edges of two layers.
var edgeLabels = func() (out [3][3]string) {
	for i, one := range layerNames {
		for j, other := range layerNames {
			out[i][j] = fmt.Sprintf("Edges: light where only %s has one, dark where only %s has", one, other)
		}
	}
	return out
}()

// caption is the height of the words above a pane.
func (v *View) caption() float64 { return max(v.Stage.Caption, leastCaption) }

// room is the part of the table that pictures can take: no drawer covers it.
func (v *View) room() Box {
	const around = edge + Paper
	top := v.caption() + Paper
	return Box{around, top, v.Stage.W - v.Stage.Right - 2*around, v.Stage.H - v.Stage.Bottom - top - around}
}

// Panes lays out the pictures of the look, but for the loupe's.
func (v *View) Panes() []Pane { return v.AppendPanes(nil) }

// AppendPanes appends the panes to a slice: with room in it a frame need not allocate any.
func (v *View) AppendPanes(to []Pane) []Pane {
	room := v.room()
	if room.W < least || room.H < least || v.Look == "board" {
		return to
	}
	one := func(id, label string, shows Shows) Pane {
		return Pane{Box: room, ID: id, Label: label, Shows: shows, wholeW: room.W}
	}
	left, right := v.sides(room)
	print := one("print", "Likely print", ShowsPrint)
	switch v.Look {
	case "divided":
		cut := math.Round(room.W * v.Divider)
		left.W = cut
		right.X, right.W, right.cutOff = room.X+cut, room.W-cut, cut
		return append(to, left, right)
	case "blink":
		if v.Second {
			return append(to, right)
		}
		return append(to, left)
	case "difference":
		return append(to, v.difference(room))
	case "reach":
		return v.reaches(to, room)
	case "sure":
		lighter, heavier := one("lighter", "Lighter", ShowsPrint), one("heavier", "Heavier", ShowsPrint)
		lighter.Variant, heavier.Variant = picture.VariantLighter, picture.VariantHeavier
		print.Label = "Likely"
		return v.lay(to, room, lighter, print, heavier)
	case "faded":
		kept, faded := one("kept", "Faded least", ShowsPrint), one("faded", "Faded most", ShowsPrint)
		kept.Variant, faded.Variant = picture.VariantKept, picture.VariantFaded
		print.Label = "Fresh"
		return v.lay(to, room, print, kept, faded)
	case "outside":
		p := one("outside", "Outside this screen", ShowsOutside)
		p.Variant = picture.VariantTrue
		return append(to, p)
	case "losses":
		var out [3]Pane
		for i, which := range [3]pigment.Printer{pigment.Cyan, pigment.Magenta, pigment.Yellow} {
			out[i] = one("losses-"+layerNames[which], capital(layerNames[which]), ShowsLosses)
			out[i].Plate = which
		}
		return v.lay(to, room, out[:]...)
	case "exposed":
		under, over := one("under", "15 % less light", ShowsPrint), one("over", "15 % more light", ShowsPrint)
		under.Variant, over.Variant = picture.VariantUnder, picture.VariantOver
		print.Label = "Likely"
		return v.lay(to, room, under, print, over)
	case "palettes":
		other := one("other", "Other palette", ShowsPrint)
		other.Variant, other.Masking = picture.VariantOther, picture.MaskingOther
		return v.lay(to, room, print, other)
	case "ways":
		straight, tuned := one("straight", "Printed straight", ShowsPrint), one("tuned", "Printed tuned", ShowsPrint)
		straight.Variant, tuned.Variant = picture.VariantStraight, picture.VariantTuned
		straight.Masking, tuned.Masking = picture.MaskingOff, picture.MaskingOff
		return v.lay(to, room, straight, tuned)
	case "dots":
		continuous, dots := one("continuous", "Continuous", ShowsPrint), one("dots", "From dots", ShowsPrint)
		continuous.Variant, dots.Variant = picture.VariantTuned, picture.VariantDots
		return v.lay(to, room, continuous, dots)
	case "masks":
		unmasked, masked := one("unmasked", "Printed unmasked", ShowsPrint), one("masked", "Printed masked", ShowsPrint)
		unmasked.Masking, masked.Masking = picture.MaskingOff, picture.MaskingOn
		return v.lay(to, room, unmasked, masked)
	case "rooms":
		bench, gallery := one("bench", "On the bench", ShowsPrint), one("gallery", "In the dim gallery", ShowsPrint)
		bench.Variant, gallery.Variant = picture.VariantBright, picture.VariantDim
		return v.lay(to, room, bench, gallery)
	case "layer":
		p := one("layer", "The "+v.Layer+" layer alone on the paper", ShowsPrint)
		p.Only = v.Layer
		return append(to, p)
	case "plate", "turns":
		which := v.Plates[0]
		if v.Look == "turns" && v.Second {
			which = v.Plates[1]
		}
		p := one("plate", platesAsLight[which], ShowsPlate)
		p.Plate = pigment.Printer(which)
		return append(to, p)
	case "edges":
		return append(to, one("edges", edgeLabels[v.Edges[0]][v.Edges[1]], ShowsEdges))
	case "marks":
		var out [3]Pane
		for f, name := range session.Filters {
			out[f] = one("plate-"+name, "The "+name+" plate", ShowsPlate)
			out[f].Plate, out[f].OwnFrame, out[f].enlarged = filter.Filter(f).Printer(), true, v.Marking.enlarged(f)
		}
		return v.lay(to, room, out[:]...)
	}
	return v.lay(to, room, left, right)
}

// capital is a name with a large first letter.
func capital(name string) string { return strings.ToUpper(name[:1]) + name[1:] }

// lay appends panes of equal size to a slice, side by side, or one below the other where the
// picture is larger so, or not much smaller and its words need it.
func (v *View) lay(to []Pane, room Box, panes ...Pane) []Pane {
	n := float64(len(panes))
	across, down := between+2*Paper, between+2*Paper+v.caption()
	w, h := math.Floor((room.W-(n-1)*across)/n), math.Floor((room.H-(n-1)*down)/n)
	pictureW, pictureH := v.Shown[2]-v.Shown[0], v.Shown[3]-v.Shown[1]
	beside, below := min(w/pictureW, room.H/pictureH), min(room.W/pictureW, h/pictureH)
	if w < leastWords {
		beside *= forWords
	}
	if below > beside {
		for i := range panes {
			panes[i].Y, panes[i].H = room.Y+float64(i)*(h+down), h
		}
		return append(to, panes...)
	}
	for i := range panes {
		panes[i].X, panes[i].W, panes[i].wholeW = room.X+float64(i)*(w+across), w, w
	}
	return append(to, panes...)
}

// Words is where the words above a pane begin, and the width that they have: from the
// picture's left edge to the end of the paper that the pane has room for, or where that is
// narrow from further left. Over a divided picture the two share its width, or where that is
// narrow the whole pane's.
func (v *View) Words(p Pane) (x, w float64) {
	const narrow = 440
	x = float64(v.Covered(p).Min.X) / v.Stage.Ratio
	if v.Look != "divided" {
		x = max(p.X, min(x, p.X+p.W-narrow))
		return x, p.X + p.W + Paper - x
	}
	pane := p.X - p.cutOff
	middle := pane + p.wholeW/2
	taken := min(v.Zoom/v.Stage.Ratio*(v.Shown[2]-v.Shown[0]), p.wholeW)
	if taken < narrow {
		taken = p.wholeW
	}
	if p.cutOff == 0 {
		return middle - taken/2, taken / 2
	}
	return middle, pane + p.wholeW - middle
}

// ToPixel takes a device pixel of the canvas to the pixel that a pane shows there: of
// the key, or of the plate itself where the pane is in its OwnFrame.
func (v *View) ToPixel(p Pane) affine.Matrix {
	r := v.Stage.Ratio
	if e := p.enlarged; e != nil {
		fromMiddle := affine.Translate(0.5-(p.X+p.W/2)*r, 0.5-(p.Y+p.H/2)*r)
		return affine.Translate(e.x, e.y).Mul(e.linear).Mul(affine.Scale(1/e.zoom, 1/e.zoom)).Mul(fromMiddle)
	}
	mx, my := (p.X-p.cutOff+p.wholeW/2)*r, (p.Y+p.H/2)*r
	k := 1 / v.Zoom
	return affine.Matrix{k, 0, v.Centre[0] - (mx-0.5)*k, 0, k, v.Centre[1] - (my-0.5)*k}
}

// PixelAt is ToPixel for a point of the stage.
func (v *View) PixelAt(p Pane, x, y float64) (float64, float64) {
	return v.ToPixel(p).Apply(x*v.Stage.Ratio-0.5, y*v.Stage.Ratio-0.5)
}

// OnStage takes device pixels to points of the stage.
func (v *View) OnStage(x, y float64) (float64, float64) {
	return (x + 0.5) / v.Stage.Ratio, (y + 0.5) / v.Stage.Ratio
}

// Covered is the part of a pane that the picture covers, in device pixels.
func (v *View) Covered(p Pane) image.Rectangle {
	if p.enlarged != nil { // it is full
		return v.OnCanvas(p.Box)
	}
	r := v.Stage.Ratio
	back, _ := v.ToPixel(p).Inverse()
	x0, y0 := back.Apply(v.Shown[0], v.Shown[1])
	x1, y1 := back.Apply(v.Shown[2], v.Shown[3])
	out := image.Rectangle{
		image.Pt(whole(max(x0+0.5, p.X*r)), whole(max(y0+0.5, p.Y*r))),
		image.Pt(whole(min(x1+0.5, (p.X+p.W)*r)), whole(min(y1+0.5, (p.Y+p.H)*r))),
	}
	out.Max.X, out.Max.Y = max(out.Min.X, out.Max.X), max(out.Min.Y, out.Max.Y)
	return out
}

// PaperOf is the paper that a pane's picture lies on, in device pixels. The two halves of
// a divided picture share one.
func (v *View) PaperOf(p Pane) image.Rectangle {
	covered := v.Covered(p)
	if covered.Empty() {
		return covered
	}
	around := whole(Paper * v.Stage.Ratio)
	sheet := covered.Inset(-around)
	if v.Look == "divided" {
		if p.cutOff > 0 {
			sheet.Min.X = covered.Min.X
		} else {
			sheet.Max.X = covered.Max.X
		}
	}
	return sheet
}

// OnCanvas is a place on the stage in device pixels.
func (v *View) OnCanvas(b Box) image.Rectangle {
	r := v.Stage.Ratio
	return image.Rectangle{image.Pt(whole(b.X*r), whole(b.Y*r)), image.Pt(whole((b.X+b.W)*r), whole((b.Y+b.H)*r))}
}

func whole(v float64) int { return int(math.Round(v)) }

// PaneAt returns the pane under a point of the stage, or else the first; inside is
// false then, and where there is none.
func (v *View) PaneAt(x, y float64) (p Pane, inside bool) {
	panes := v.Panes()
	for _, p := range panes {
		if p.holds(x, y) {
			return p, true
		}
	}
	if len(panes) == 0 {
		return Pane{}, false
	}
	return panes[0], false
}

// SeenAt is PaneAt, and inside only where the pane's picture is: on the paper beside it, where plate
// edges may be cut off, nothing is seen.
func (v *View) SeenAt(x, y float64) (p Pane, inside bool) {
	p, inside = v.PaneAt(x, y)
	r := v.Stage.Ratio
	return p, inside && image.Pt(int(x*r), int(y*r)).In(v.Covered(p))
}

// KeyAt returns the key's pixel under a point of the stage.
func (v *View) KeyAt(x, y float64) (float64, float64) {
	p, _ := v.PaneAt(x, y)
	return v.PixelAt(p, x, y)
}
