package testsheet

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"threeply/proof/balance"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// What a patch is for.
const (
	Fit     = "fit"      // the tissues are fitted to it
	HeldOut = "held-out" // it is predicted, and never fitted to
	Repeat  = "repeat"   // one of five like patches, which show how even the sheet is
)

// What lies under a patch.
const (
	White = "white" // the paper of the print
	Dark  = "dark"  // black card
)

// Patch is one patch of the sheet. ID is its place: a letter for the row, a number for
// the column, both counted from the upper left as the print is looked at.
type Patch struct {
	ID       string
	Use      string
	Ground   string
	LogE     [3]float64 // by printer; see Has
	Has      [3]bool    // the layer is printed here
	Row, Col int        // from 0
}

// Bare tells whether no layer is printed on the patch.
func (p Patch) Bare() bool { return p.Has == [3]bool{} }

// Layers counts the layers of the patch.
func (p Patch) Layers() int {
	n := 0
	for _, has := range p.Has {
		if has {
			n++
		}
	}
	return n
}

// Sheet is the whole sheet. Its rows on white come first, those on the dark ground last.
type Sheet struct {
	Patches    []Patch // by row, then by column
	Rows, Cols int
	DarkRow    int        // the first row on the dark ground
	Threshold  [3]float64 // log exposure at which a layer is taken to begin, by printer
}

// Seed is that of the places: the same palette always gives the same sheet.
const Seed = 1931

// The shape of the sheet, and how many patches are of each kind.
const (
	columns   = 12
	whiteRows = 10
	coarse    = 9    // steps of a wedge, from the base exposure down to near the threshold
	near      = 0.09 // log exposure above the threshold at which the last of them lies
	mostReach = 1.8  // log exposure from threshold to base that a film can still show
)

// A tissue that nobody has measured may begin far above where it is taken to (assumed: where its
// range is 0.6 of what it was taken to be). Steps from there down lie close: every other one is a step
// of each wedge, and those between are overprints of all three layers, each of which is a step of three
// curves at once.
const (
	seldom = 0.62 // share of the range beyond which no layer begins
	feet   = 4    // overprints of that kind

	upper     = 4    // steps above, and
	upperStep = 0.15 // between them, as a share of the range
)

// fine are the further steps of a wedge, against the threshold. The last tells a layer that
// begins far below where it is taken to.
var fine = [...]float64{0.03, -0.03, -0.09, -0.25}

// greys are the tones of the grey wedge, 0 paper to 1 depth, besides those of the blocks.
var greys = [...]float64{1}

// overprints are the heights, as shares of the coat, of the overprints that are fitted:
// yellow, magenta, cyan, 0 for none. Where nobody has measured the tissues, each is a step of its wedge.
var overprints = [][3]float64{
	{0.85, 0.85, 0}, {1, 0.55, 0}, {0.85, 0, 0.85}, {0.55, 0, 1}, {0, 0.85, 0.85}, {0, 1, 0.55},
}

// heldOut are those of the overprints that are predicted only. They lie between the
// others, in all directions of colour.
var heldOut = [][3]float64{
	{0.55, 0.6, 0}, {0.3, 0.75, 0}, {0.6, 0, 0.55}, {0, 0.3, 0.7},
	{0.25, 0.25, 0.25}, {0.6, 0.3, 0.3}, {0.3, 0.6, 0.3}, {0.3, 0.3, 0.6},
	{0.65, 0.6, 0.25}, {0.65, 0.25, 0.6}, {0.25, 0.65, 0.6}, {0.7, 0.7, 0.7},
}

// Which steps of each wedge are there over the dark ground too, from the uppermost, 0: thick ones,
// for the thicker a layer, the more of what is seen was scattered, but none as dark as the base
// exposure, which a scanner hardly tells from black.
const darkFrom, darkTo = 1, 4

// repeated is the patch of which there are five.
var repeated = [3]float64{0.45, 0.4, 0.4}

// Where the five lie, row and column: the corners of the white rows, and the middle.
var corners = [5][2]int{{0, 0}, {0, columns - 1}, {whiteRows - 1, 0}, {whiteRows - 1, columns - 1}, {whiteRows / 2, 4}}

// Of lays out the sheet of a palette.
func Of(p pigment.Palette) Sheet {
	light, _ := spectrum.LightByID("D50")
	l := layer{palette: p, neutral: balance.Neutral(stack.DefaultRecipe(p), light, balance.DefaultLimit)}
	s := Sheet{Rows: whiteRows + 1, Cols: columns, DarkRow: whiteRows}
	for _, printer := range pigment.Printers() {
		l.scale[printer] = ScaleOf(p.Layer(printer))
		s.Threshold[printer] = round(-l.scale[printer].Reach)
	}
	white, dark := l.scattered()
	taken := map[[2]int]bool{}
	put := func(at [2]int, patch Patch) {
		taken[at] = true
		patch.Row, patch.Col = at[0], at[1]
		patch.ID = ID(at[0], at[1])
		for i, logE := range patch.LogE {
			patch.LogE[i] = round(logE)
		}
		s.Patches = append(s.Patches, patch)
	}
	for _, at := range corners {
		put(at, l.patch(Repeat, White, repeated))
	}
	for i := range blocks {
		for at, patch := range l.block(&blocks[i]) {
			put(at, patch)
		}
	}
	random := rand.New(rand.NewPCG(Seed, 0))
	scatter := func(patches []Patch, fromRow, rows int) {
		var free [][2]int
		for r := fromRow; r < fromRow+rows; r++ {
			for c := range columns {
				if !taken[[2]int{r, c}] {
					free = append(free, [2]int{r, c})
				}
			}
		}
		random.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
		for i, patch := range patches {
			put(free[i], patch)
		}
	}
	scatter(white, 0, whiteRows)
	scatter(dark, whiteRows, 1)
	slices.SortFunc(s.Patches, func(a, b Patch) int { return cmp.Or(a.Row-b.Row, a.Col-b.Col) })
	return s
}

// ID is the name of a place.
func ID(row, col int) string { return fmt.Sprintf("%c%d", 'A'+row, col+1) }

// Find is the patch of that id.
func (s *Sheet) Find(id string) (Patch, bool) {
	for _, p := range s.Patches {
		if p.ID == id {
			return p, true
		}
	}
	return Patch{}, false
}

// Wedge is the patches of one layer alone on the paper, the most light first.
func (s *Sheet) Wedge(printer pigment.Printer) []Patch {
	var out []Patch
	for _, p := range s.Patches {
		if p.Has[printer] && p.Layers() == 1 && p.Ground == White {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Patch) int { return cmp.Compare(b.LogE[printer], a.LogE[printer]) })
	return out
}

// layer knows where the exposures of a palette's layers lie.
type layer struct {
	palette pigment.Palette
	scale   [3]Scale
	neutral balance.Scale
}

// Scale is where the exposures of a tissue lie on its sheet: by its curve, as measured or
// as relief.Of takes it to be.
type Scale struct {
	Reach float64 // log exposure from where the layer begins to the base exposure

	response relief.Response
	most     float64 // µm that the base exposure leaves
}

// ScaleOf is that of a tissue. The base exposure leaves the whole coat, but where that is taken
// to be more above the threshold than a film can show.
func ScaleOf(t pigment.Tissue) Scale {
	r := relief.Of(t)
	begins := r.Exposure(0)
	s := Scale{Reach: r.Exposure(r.Coat) - begins, response: r}
	if len(t.Hardening.Wedge) < 2 { // else the base exposure is that of the measured sheet
		s.Reach = min(s.Reach, mostReach)
	}
	s.most = r.Hardened(begins + s.Reach)
	return s
}

// LogE is the exposure against the base that leaves a share, 0 to 1, of what the base
// exposure leaves.
func (s Scale) LogE(share float64) float64 {
	return s.response.Exposure(share*s.most) - s.response.Exposure(0) - s.Reach
}

// Share is what an exposure leaves of what the base exposure leaves.
func (s Scale) Share(logE float64) float64 {
	return min(s.response.Hardened(logE+s.Reach+s.response.Exposure(0))/s.most, 1)
}

// patch is one of the given heights, as shares of the coat; 0 is no layer.
func (l *layer) patch(use, ground string, heights [3]float64) Patch {
	p := Patch{Use: use, Ground: ground}
	for i, h := range heights {
		if h > 0 {
			p.Has[i], p.LogE[i] = true, round(l.scale[i].LogE(h))
		}
	}
	return p
}

// scattered are the patches that lie anywhere, on white and on the dark ground.
func (l *layer) scattered() (white, dark []Patch) {
	white = append(white, Patch{Use: Fit, Ground: White}, Patch{Use: Fit, Ground: White})
	dark = append(dark, Patch{Use: Fit, Ground: Dark})
	if !l.measured() { // what all others there scatter is told against the bare ones
		dark = append(dark, dark[0], dark[0])
	}
	for i := range l.scale {
		for k, logE := range l.wedge(i) {
			p := Patch{Use: Fit, Ground: White}
			p.Has[i], p.LogE[i] = true, logE
			white = append(white, p)
			if p.Ground = Dark; k >= darkFrom && k < darkTo {
				dark = append(dark, p)
			}
		}
	}
	for _, h := range overprints {
		white = append(white, l.patch(Fit, White, h))
	}
	for _, tone := range greys {
		white = append(white, l.patch(Fit, White, l.grey(tone)))
	}
	if !l.measured() {
		for k := range feet {
			white = append(white, l.foot(k))
		}
	}
	for _, h := range heldOut {
		white = append(white, l.patch(HeldOut, White, h))
	}
	return white, dark
}

// wedge is the log exposures of a layer alone, the most first.
func (l *layer) wedge(i int) []float64 {
	reach := l.scale[i].Reach
	n, apart := coarse, (reach-near)/(coarse-1)
	if !l.measured() {
		n, apart = upper, upperStep*reach
	}
	var out []float64
	for k := range n {
		out = append(out, -apart*float64(k))
	}
	for k := 1; k < 2*feet && !l.measured(); k += 2 {
		out = append(out, l.close(i, k))
	}
	for _, off := range fine {
		out = append(out, off-reach)
	}
	return out
}

// measured tells whether it is known where the layers begin.
func (l *layer) measured() bool { return l.palette.Measured != nil }

// close is the kth of the close steps of a layer, from 0; the last lies near the threshold.
func (l *layer) close(i, k int) float64 {
	from, to := seldom*l.scale[i].Reach, l.scale[i].Reach-near
	return -from - (to-from)*float64(k)/(2*feet-1)
}

// foot is the kth overprint of three layers where they may begin. Each layer is at another of its
// steps there, so that none is like a grey.
func (l *layer) foot(k int) Patch {
	p := Patch{Use: Fit, Ground: White}
	for i := range p.LogE {
		p.Has[i], p.LogE[i] = true, round(l.close(i, 2*((k+2*i)%feet)))
	}
	for i := range blocks {
		if l.middle(&blocks[i]).LogE[pigment.Cyan] == p.LogE[pigment.Cyan] {
			p.LogE[pigment.Cyan] -= 0.01 // else it would count to that block
		}
	}
	return p
}

// deepest is the tone from which on no block of greys lies: none could be made darker.
const deepest = 0.88

// tone is the tone, 0 paper to 1 depth, that has a lightness L*, or is next to it.
func (l *layer) tone(lightness float64) float64 {
	n := l.neutral
	return min((n.Paper[0]-lightness)/(n.Paper[0]-n.Depth.Lab[0]), deepest)
}

// grey is the amounts that the palette as it is known prints neutral at a tone, 0 paper to 1
// depth.
func (l *layer) grey(tone float64) [3]float64 {
	t := l.neutral.Thickness(tone)
	for i := range t {
		t[i] = min(max(t[i], 0.02), 1)
	}
	return t
}

// round brings a log exposure to hundredths, and to what clear film lets through at most.
func round(logE float64) float64 { return min(math.Round(100*logE), 0)/100 + 0 }
