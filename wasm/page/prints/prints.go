package prints

import (
	"reflect"

	"threeply/proof/affine"
	"threeply/proof/film"
	"threeply/proof/mask"
	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/reach"
	"threeply/proof/relief"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/spread"
	"threeply/proof/tone"
)

// Plates are the density planes by source: each at full size, then ever smaller halves
// of it. They are nil where no set is open, and are not written to.
type Plates [3][]*plane.Plane

// Open tells whether there are plates.
func (p Plates) Open() bool { return p[0] != nil }

// Level returns level l of every source, or its smallest.
func (p Plates) Level(l int) [3]*plane.Plane {
	var out [3]*plane.Plane
	for i, levels := range p {
		out[i] = levels[min(l, len(levels)-1)]
	}
	return out
}

// Prints is what is worked out. Begin with New.
type Prints struct {
	likely   *picture.Printing // without masks
	known    known
	films    [3]tone.Film // that the curves are for, by printer
	read     readFilms
	drawn    []drawn         // the curves that were asked for last, the last one first
	way      relief.Way      // that the curves are for
	unknowns spread.Unknowns // that the variants are for
	variants [picture.Variants]Print
	space    spectrum.RGBSpace                   // of the canvas
	wide     [picture.Variants]Print             // the variants coded for the canvas, where that is not sRGB
	wideOf   [picture.Variants]*picture.Printing // what they are made of

	looked     Looked
	masks      foundMasks
	otherMasks foundMasks    // of VariantOther
	heldMasks  [2]foundMasks // of VariantHeldLeft and VariantHeldRight
	chosen     *mask.Matrix  // masks where the session prints masked, nil where it prints unmasked

	plates    Plates
	sampled   *picture.Densities
	sampledOf masksStand
	losses    [3]picture.Loss
	lossesOf  lossesStand
	outside   outside

	growth film.Growth        // that the curves of VariantDots are for
	shown  pigment.Exhibition // that VariantKept and VariantFaded have been through

	shells   [3]*reach.Shell      // what can be printed: of the likely print, of that held at the left, at the right
	shellsOf [3]*picture.Printing // what they are made of

	Tries      Tries
	depths     depths
	ahead      func() (more bool) // works out the next piece of a printing; nil where none is begun
	aheadFault bool               // one cannot be worked out: none is tried over and over
	serial     int                // the last that a Print was given
}

// Print is one variant of the print, without masks.
type Print struct {
	*picture.Printing
	Curves [3]picture.Curves // by printer
	// Serial changes with everything that the variant holds, and is never 0.
	Serial int
}

// Looked is what is looked at beside the print as the session has it.
type Looked struct {
	Masks bool                  // the print unmasked beside the print masked
	Other string                // a print with another palette, by its id; "" for none
	Held  [2]*session.HeldPrint // at the left and at the right; nil for none
}

// foundMasks are masks, nil where none can be found for the reason err.
type foundMasks struct {
	masks *mask.Matrix
	err   error
	of    masksStand
}

// masksStand is all that masks stand on.
type masksStand struct {
	printing *picture.Printing
	films    [3]tone.Film
	plates   [3]*plane.Plane
	at       [3]affine.Matrix
}

// lossesStand is all that losses stand on.
type lossesStand struct {
	sampled  *picture.Densities
	printing *picture.Printing
	way      relief.Way
	films    [3]tone.Film
	masks    *mask.Matrix // nil for a print without
}

// New works out the prints of a session without plates.
func New(s *session.State) (*Prints, error) { return NewByPieces(s, func() {}) }

// NewByPieces is New with a pause between pieces of the work.
func NewByPieces(s *session.State, pause func()) (*Prints, error) {
	likely, err := picture.PrepareByPieces(s, pause)
	if err != nil {
		return nil, err
	}
	pause()
	p := &Prints{space: spectrum.SRGB, likely: likely, known: known{likely}}
	p.filmsRead(s)
	pause()
	p.curves(s, likely)
	pause()
	return p, p.Update(s, Plates{}, Looked{})
}

// Update brings everything in step with the session. Masks are found where the session
// prints masked, or where they are looked at. The error of masks that the session asks
// for and that cannot be found is mask.ErrTooFew; everything else is in step then.
func (p *Prints) Update(s *session.State, plates Plates, looked Looked) error {
	p.plates = plates
	if looked.Other != p.looked.Other {
		p.variants[picture.VariantOther] = Print{}
	}
	for i := range looked.Held {
		if !reflect.DeepEqual(looked.Held[i], p.looked.Held[i]) {
			for v := range p.variants {
				if heldSide(picture.Variant(v)) == i {
					p.variants[v] = Print{}
				}
			}
		}
	}
	p.looked = looked
	if p.likely == nil || !p.likely.Fits(s) {
		printing, err := p.known.of(s)
		if err != nil {
			return err
		}
		p.likely = printing
		p.variants = [picture.Variants]Print{}
	}
	if films, way := filmsOf(s), p.likely.Way(s); films != p.films || way != p.way {
		p.films, p.way = films, way
		p.redraw()
	}
	if u := s.Doubts(); u != p.unknowns {
		p.unknowns = u
		p.variants[picture.VariantLighter], p.variants[picture.VariantHeavier] = Print{}, Print{}
	}
	if g := s.Setup().Growth(); !reflect.DeepEqual(g, p.growth) {
		p.growth, p.drawn = g, nil
		p.variants[picture.VariantDots].Serial = 0 // its curves are stale
	}
	if e := s.OnShow(); e != p.shown {
		p.shown = e
		p.variants[picture.VariantKept], p.variants[picture.VariantFaded] = Print{}, Print{}
	}
	if p.variants[picture.VariantLikely].Serial == 0 {
		p.variants[picture.VariantLikely] = p.make(s, picture.VariantLikely)
	}
	return p.findMasks(s, plates)
}

func (p *Prints) make(s *session.State, v picture.Variant) Print {
	printing := p.variants[v].Printing // where only its curves are stale
	if as := p.heldState(s, v); as != nil {
		s = as
		if printing == nil {
			printing = p.prepareHeld(s, v)
		}
	}
	switch {
	case printing != nil:
	case v == picture.VariantOther:
		printing = p.withOther(s)
	case v == picture.VariantKept, v == picture.VariantFaded:
		printing = p.likely.Faded(p.shown, v == picture.VariantFaded)
	default:
		printing = p.likely.Variant(v, p.unknowns)
	}
	p.serial++
	return Print{Printing: printing, Curves: p.curves(s, printing), Serial: p.serial}
}

// withOther is the print with the other palette that is looked at, all else alike; the
// likely one where there is none.
func (p *Prints) withOther(s *session.State) *picture.Printing {
	other := *s
	other.Palette = p.looked.Other
	printing, err := p.known.of(&other)
	if err != nil { // no other palette is looked at
		return p.likely
	}
	return printing
}

// heldSide is the side of a held print's variant: 0 at the left, 1 at the right, -1 where
// it is none of a held print.
func heldSide(v picture.Variant) int {
	switch v {
	case picture.VariantHeldLeft, picture.VariantHeldLeftTrue:
		return 0
	case picture.VariantHeldRight, picture.VariantHeldRightTrue:
		return 1
	}
	return -1
}

// trueCoded tells the variants whose table holds the colours as they are.
func trueCoded(v picture.Variant) bool {
	return v == picture.VariantTrue || v == picture.VariantHeldLeftTrue || v == picture.VariantHeldRightTrue
}

// heldState is the session as it would be with the held print of a variant, nil where the
// variant is none of a held print or nothing is held.
func (p *Prints) heldState(s *session.State, v picture.Variant) *session.State {
	side := heldSide(v)
	if side < 0 || p.looked.Held[side] == nil {
		return nil
	}
	as, err := s.With(p.looked.Held[side])
	if err != nil { // the session's check has seen that it can be shown
		return nil
	}
	return &as
}

// prepareHeld is the printing of a held print, of which as is the session.
func (p *Prints) prepareHeld(as *session.State, v picture.Variant) *picture.Printing {
	printing, err := p.known.of(as)
	if err != nil { // the session's check has seen it
		return p.likely
	}
	if trueCoded(v) {
		return printing.Variant(picture.VariantTrue, p.unknowns)
	}
	return printing
}

// findHeldMasks finds the masks of held prints that are masked.
func (p *Prints) findHeldMasks(s *session.State, plates Plates) {
	for i := range p.heldMasks {
		v := picture.VariantHeldLeft + picture.Variant(i)
		as := p.heldState(s, v)
		if as == nil || !as.Masked || !plates.Open() {
			p.heldMasks[i] = foundMasks{}
			continue
		}
		if p.variants[v].Serial == 0 {
			p.variants[v] = p.make(s, v)
		}
		p.heldMasks[i].find(p.variants[v].Printing, as, plates, p.films)
	}
}

// redraw has the curves of all variants made anew when they are next asked for: their
// optics stay.
func (p *Prints) redraw() {
	for i := range p.variants {
		p.variants[i].Serial = 0
	}
}

func (p *Prints) findMasks(s *session.State, plates Plates) error {
	p.chosen = nil
	p.findHeldMasks(s, plates)
	if !s.Masked && !p.looked.Masks || !plates.Open() {
		p.masks, p.otherMasks = foundMasks{}, foundMasks{}
		return nil
	}
	p.masks.find(p.likely, s, plates, p.films)
	if !s.Masked {
		return nil
	}
	if p.looked.Other != "" {
		if p.variants[picture.VariantOther].Serial == 0 {
			p.variants[picture.VariantOther] = p.make(s, picture.VariantOther)
		}
		p.otherMasks.find(p.variants[picture.VariantOther].Printing, s, plates, p.films)
	}
	p.chosen = p.masks.masks
	return p.masks.err
}

// find finds the masks of a printing, unless they stand already.
func (f *foundMasks) find(printing *picture.Printing, s *session.State, plates Plates, films [3]tone.Film) {
	now := masksStand{printing: printing, films: films}
	for i := range now.at {
		now.plates[i], now.at[i] = plates[i][0], place.Register(s, i)
	}
	if now == f.of {
		return
	}
	small, level := picture.Small(plates)
	*f = foundMasks{of: now}
	if found, err := printing.FindMasks(s, small, level); err != nil {
		f.err = err
	} else {
		f.masks = &found
	}
}

// Likely is the print as the session has it, without its masks.
func (p *Prints) Likely() Print { return p.variants[picture.VariantLikely] }

// SetSpace says which space the canvas has, spectrum.SRGB where nothing is said.
func (p *Prints) SetSpace(space spectrum.RGBSpace) {
	p.space, p.wide = space, [picture.Variants]Print{}
}

// Space is the space of the canvas.
func (p *Prints) Space() spectrum.RGBSpace { return p.space }

// Of returns a variant of the print, without masks, coded for the canvas; that of
// picture.VariantTrue stays coded as sRGB, beyond 0 … 1. It is worked out when it is
// first asked for.
func (p *Prints) Of(s *session.State, v picture.Variant) Print {
	one, wide := &p.variants[v], &p.wide[v]
	if one.Serial == 0 {
		*one = p.make(s, v)
	}
	if p.space == spectrum.SRGB || trueCoded(v) {
		return *one
	}
	if p.wideOf[v] != one.Printing || wide.Serial == 0 {
		*wide, p.wideOf[v] = Print{Printing: one.Printing.In(p.space)}, one.Printing
	}
	wide.Curves, wide.Serial = one.Curves, one.Serial
	return *wide
}

// Masks are those that a print goes through, nil for an unmasked one.
func (p *Prints) Masks(m picture.Masking) *mask.Matrix {
	switch m {
	case picture.MaskingOff:
		return nil
	case picture.MaskingOn:
		return p.masks.masks
	case picture.MaskingOther:
		return p.otherMasks.masks
	case picture.MaskingHeldLeft:
		return p.heldMasks[0].masks
	case picture.MaskingHeldRight:
		return p.heldMasks[1].masks
	}
	return p.chosen
}

// Losses are what the layers of the print lose to the wash and where they block, by
// printer; ok is false where no plates are open. They are worked out when they are
// asked for.
func (p *Prints) Losses(s *session.State) (losses [3]picture.Loss, ok bool) {
	if !p.plates.Open() {
		return losses, false
	}
	small, level := picture.Small(p.plates)
	at := masksStand{plates: small}
	for i := range at.at {
		at.plates[i], at.at[i] = small[s.SourceOf(pigment.Printer(i))], place.Register(s, s.SourceOf(pigment.Printer(i)))
	}
	if at != p.sampledOf {
		p.sampledOf, p.sampled = at, p.likely.SampleDensities(s, small, level)
	}
	if now := (lossesStand{p.sampled, p.likely, p.likely.Way(s), p.films, p.chosen}); now != p.lossesOf {
		p.lossesOf, p.losses = now, p.likely.Losses(s, now.way, p.sampled, p.chosen)
	}
	return p.losses, true
}

// Shell is what the likely print or a held one can show, hue by hue. It is worked out
// when it is first asked for. Of other variants it is that of the likely print.
func (p *Prints) Shell(s *session.State, v picture.Variant) *reach.Shell {
	i, of := 1+heldSide(v), p.likely
	if i > 0 {
		p.Of(s, v)
		of = p.variants[v].Printing
	}
	if p.shellsOf[i] != of {
		p.shells[i], p.shellsOf[i] = reach.New(of.Cube, of.Limit).Shell(of.Scale), of
	}
	return p.shells[i]
}

// Picture is the whole print at the key's own pixels, masked where the session says so.
func (p *Prints) Picture(s *session.State, plates Plates) *render.Picture {
	likely := p.Likely()
	return picture.Assemble(s, likely.Masked(p.chosen), likely.Curves, plates.Level(0), affine.Identity, 0)
}

// Masked is a print with masks.
func (p Print) Masked(masks *mask.Matrix) *picture.Printing {
	out := *p.Printing
	out.Masks = masks
	return &out
}
