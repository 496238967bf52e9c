package view

import (
	"fmt"
	"strconv"
	"strings"

	"threeply/proof/picture"
	"threeply/proof/session"
)

// What can stand at a side: the reference, the print as it is worked on, a held print, by
// its number behind heldSide, or the print but for one thing, behind butSide.
const (
	SideReference = "reference"
	SidePrint     = "print"
	heldSide      = "held-"
	butSide       = "but-"
)

// HeldSide is the side of a held print.
func HeldSide(n int) string { return heldSide + strconv.Itoa(n) }

// ButSide is the side of the print but for one thing; see session.But.
func ButSide(what, id string) string { return butSide + what + "-" + id }

// PutSide says what stands at a side in the looks that compare two: "left" or "right".
// What stands at the other side already changes places with it.
type PutSide struct {
	Which string `json:"which"`
	ID    string `json:"id"`
}

func (c PutSide) apply(v *View, on Subject) error {
	if !sideThere(on.State, c.ID) {
		return fmt.Errorf("nothing is called “%.40s” that could stand at a side", c.ID)
	}
	here, there := &v.Left, &v.Right
	switch c.Which {
	case "left":
	case "right":
		here, there = there, here
	default:
		return fmt.Errorf("there is no side “%.40s”: there are left and right", c.Which)
	}
	if *there == c.ID {
		*there = *here
	}
	*here = c.ID
	v.followSides(on.State)
	v.fit()
	return nil
}

// heldOf is the held print of a side, or the print but for one thing; nil where it is
// neither, or is there no more.
func heldOf(s *session.State, side string) *session.HeldPrint {
	if but, ok := strings.CutPrefix(side, butSide); ok {
		what, id, _ := strings.Cut(but, "-")
		if h, ok := s.But(what, id); ok {
			return &h
		}
		return nil
	}
	number, held := strings.CutPrefix(side, heldSide)
	n, err := strconv.Atoi(number)
	if !held || err != nil {
		return nil
	}
	return s.HeldOf(n)
}

func sideThere(s *session.State, side string) bool {
	return side == SideReference || side == SidePrint || heldOf(s, side) != nil
}

// Held are the prints at the left and at the right that are other than the one that is worked
// on, nil for none.
func (v *View) Held(s *session.State) [2]*session.HeldPrint {
	return [2]*session.HeldPrint{heldOf(s, v.Left), heldOf(s, v.Right)}
}

// followSides puts the usual in place of a held print that is there no more, and notes
// the names of those that are.
func (v *View) followSides(s *session.State) {
	if !sideThere(s, v.Left) {
		v.Left = SideReference
	}
	if !sideThere(s, v.Right) {
		v.Right = SidePrint
	}
	if v.Left == v.Right {
		v.Left, v.Right = SideReference, SidePrint
	}
	for i, h := range v.Held(s) {
		v.names[i] = ""
		if h != nil {
			v.names[i] = h.Name
		}
	}
}

// sides are the panes of the two sides, each taking the whole room.
func (v *View) sides(room Box) (left, right Pane) {
	one := func(i int, side string) Pane {
		p := Pane{Box: room, wholeW: room.W, ID: side, Side: [2]string{"left", "right"}[i], Shows: ShowsPrint}
		switch side {
		case SideReference:
			p.Label, p.Shows = "Reference", ShowsReference
		case SidePrint:
			p.Label = "Likely print"
		default:
			p.Label = v.names[i]
			p.Variant = picture.VariantHeldLeft + picture.Variant(i)
			p.Masking = picture.MaskingHeldLeft + picture.Masking(i)
		}
		return p
	}
	return one(0, v.Left), one(1, v.Right)
}

// difference is the pane of the look "difference": that of the print at the right to what
// stands at the left, or of the one at the left where the reference stands at the right.
func (v *View) difference(room Box) Pane {
	against, p := v.sides(room)
	if v.Right == SideReference {
		against, p = p, against
	}
	if p.ID == SidePrint && against.ID == SideReference {
		p.Label = "Difference to the reference, ΔE00" // no letter of which is made anew
	} else {
		p.Label = "Difference of " + p.named() + " to " + against.named() + ", ΔE00"
	}
	p.ID, p.Shows, p.Variant = "difference", ShowsDifference, trueOf(p.Variant)
	if against.Shows == ShowsPrint {
		p.Against = &Against{trueOf(against.Variant), against.Masking}
	}
	return p
}

// reaches appends the panes of the look "reach": one of each print that stands at a side, so
// that a held print is judged as the print that is worked on is.
func (v *View) reaches(to []Pane, room Box) []Pane {
	left, right := v.sides(room)
	prints := [2]Pane{left, right}
	if left.ID == SideReference || right.ID == SideReference { // one print: no text is put together in a frame
		only := left
		if left.ID == SideReference {
			only = right
		}
		label := "Cannot be printed: by how much, ΔE00"
		if v.Left != SidePrint && v.Right != SidePrint {
			label = "Out of reach of " + only.named() + ", ΔE00"
		}
		only.Label, only.ID, only.Side, only.Shows = label, "reach", "", ShowsReach
		return append(to, only)
	}
	for i, p := range prints {
		p.Label, p.ID, p.Side, p.Shows = "Out of reach of "+p.named()+", ΔE00", "reach-"+p.Side, "", ShowsReach
		prints[i] = p
	}
	return v.lay(to, room, prints[:]...)
}

// named is a picture's name within a sentence.
func (p Pane) named() string {
	switch p.ID {
	case SideReference:
		return "the reference"
	case SidePrint:
		return "the print"
	}
	return "“" + p.Label + "”"
}

// trueOf is a variant with its true colours.
func trueOf(v picture.Variant) picture.Variant {
	switch v {
	case picture.VariantHeldLeft:
		return picture.VariantHeldLeftTrue
	case picture.VariantHeldRight:
		return picture.VariantHeldRightTrue
	}
	return picture.VariantTrue
}

// Compares tells whether the look is one that compares the two sides.
func (v *View) Compares() bool {
	switch v.Look {
	case "beside", "divided", "blink", "difference", "reach":
		return true
	}
	return false
}
