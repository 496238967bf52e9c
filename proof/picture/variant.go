package picture

import (
	"threeply/proof/render"
	"threeply/proof/spread"
)

// Variant is one of the ways in which the print may come out or be seen.
type Variant int

const (
	VariantLikely  Variant = iota // as the session has it
	VariantLighter                // of a batch that went light
	VariantHeavier
	VariantBright   // seen on the workshop's bench
	VariantDim      // seen in the dim gallery
	VariantUnder    // exposed less, by WhatIf
	VariantOver     // exposed more
	VariantStraight // as if the session printed straight
	VariantTuned
	VariantDots          // from screened negatives
	VariantOther         // with another palette: not a variant of a Printing, but one of its own
	VariantHeldLeft      // a held print, as is VariantOther, that stands at the left
	VariantHeldRight     // and one at the right
	VariantHeldLeftTrue  // VariantHeldLeft with its true colours
	VariantHeldRightTrue // and VariantHeldRight
	VariantKept          // after the exhibition, at best; see Faded
	VariantFaded         // and at worst
	VariantTrue          // with its true colours, whether the display has them or not; see TrueTable
	Variants             // how many there are
)

// Variant returns the printing of a variant.
func (p *Printing) Variant(v Variant, u spread.Unknowns) *Printing {
	switch v {
	case VariantLighter:
		return p.Lighter(u)
	case VariantHeavier:
		return p.Heavier(u)
	case VariantBright, VariantDim:
		return p.SeenIn(v == VariantDim)
	case VariantUnder:
		return p.Exposed(-WhatIf)
	case VariantOver:
		return p.Exposed(WhatIf)
	case VariantStraight, VariantTuned:
		return p.Printed(v == VariantStraight)
	case VariantDots:
		dots, _ := p.Dotted()
		return dots
	case VariantTrue:
		q := *p
		q.Table = p.TrueTable()
		q.decoded = render.Decode(q.Table)
		return &q
	}
	return p
}

// Masking is whether a print is masked.
type Masking int

const (
	MaskingChosen Masking = iota // as the session has it
	MaskingOff
	MaskingOn
	MaskingOther    // as the session has it, with the masks of VariantOther
	MaskingHeldLeft // as VariantHeldLeft has it
	MaskingHeldRight
)
