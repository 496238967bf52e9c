//go:build js

package main

import (
	"threeply/proof/mask"
	"threeply/proof/picture"
)

// The variants of the print that have a table of their own: as likely, lighter and
// heavier by the spreads, and as it looks in either room.
const (
	likely = iota
	lighter
	heavier
	onBench
	inGallery
	variants
)

// variant is the printing of a variant.
func (a *app) variant(v int) *picture.Printing {
	switch v {
	case lighter:
		return a.printing.Lighter(a.Spread)
	case heavier:
		return a.printing.Heavier(a.Spread)
	case onBench, inGallery:
		return a.printing.SeenIn(v == inGallery)
	}
	return a.printing
}

// The ways of printing that a pane shows: the session's, or one of the two.
const (
	asChosen = iota
	straight
	masked
)

// masksIn are the masks that a pane's print goes through, nil for none.
func (a *app) masksIn(p pane) *mask.Matrix {
	switch p.way {
	case straight:
		return nil
	case masked:
		return a.masks
	}
	return a.printing.Masks
}

// printingIn is all that a pane's print is made with.
func (a *app) printingIn(p pane) *picture.Printing {
	q := *a.variant(p.variant)
	q.Masks = a.masksIn(p)
	return &q
}
