package picture

import (
	"threeply/proof/render"
	"threeply/proof/spread"
)

// Variant is the print as it may also come out or be seen.
type Variant int

const (
	VariantLikely  Variant = iota // as the session has it
	VariantLighter                // by the spreads of load and thickness
	VariantHeavier
	VariantBright // seen on the workshop's bench
	VariantDim    // seen in the dim gallery
	VariantTrue   // its colours themselves, whether the display has them or not; see TrueTable
	Variants      // how many there are
)

// Variant returns the printing of a variant.
func (p *Printing) Variant(v Variant, l spread.Limits) *Printing {
	switch v {
	case VariantLighter:
		return p.Lighter(l)
	case VariantHeavier:
		return p.Heavier(l)
	case VariantBright, VariantDim:
		return p.SeenIn(v == VariantDim)
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
)
