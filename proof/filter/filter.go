// Package filter names the three taking filters of a set, and which printer each
// one's plate makes.
package filter

import (
	"slices"

	"threeply/proof/pigment"
)

// Filter is the filter that a plate was taken through, and the plate's name.
type Filter int

// The three filters, in the order of a set's Assign.
const (
	Red Filter = iota
	Green
	Blue
)

// All lists the three filters.
var All = [3]Filter{Red, Green, Blue}

var names = [3]string{"red", "green", "blue"}

func (f Filter) String() string { return names[f] }

// Named returns the filter of a name; where there is none, ok is false, and it is
// Red.
func Named(name string) (f Filter, ok bool) {
	i := slices.Index(names[:], name)
	return Filter(max(i, 0)), i >= 0
}

// Printer is the layer that the filter's plate makes: the one that takes the
// filter's light away.
func (f Filter) Printer() pigment.Printer {
	return [3]pigment.Printer{Red: pigment.Cyan, Green: pigment.Magenta, Blue: pigment.Yellow}[f]
}

// Of is the filter whose plate makes a printer.
func Of(p pigment.Printer) Filter {
	return [3]Filter{pigment.Cyan: Red, pigment.Magenta: Green, pigment.Yellow: Blue}[p]
}
