// Package transfer follows the gelatine layers through the supports of a route:
// which way the picture reads on each, which layer lies on top, and how the
// printing negatives must lie for the final print to read right.
//
// Every face-to-face transfer mirrors the picture, the one from the tissue to
// its first support counted. A stack that moves as a whole is turned over with
// each move.
package transfer

import (
	"fmt"
	"slices"
	"strings"
)

// Route is a way of the layers from the tissues to the paper.
type Route struct {
	ID, Name string
	Supports []string // in the order the layers meet them; the last is the print
}

// Routes returns the three routes in use (common practice), the one over two
// supports first.
func Routes() []Route {
	return []Route{
		{"clear-temporary-paper", "clear support, temporary support, paper", []string{"clear support", "temporary support", "paper"}},
		{"clear-paper", "clear support, turned once onto the paper", []string{"clear support", "paper"}},
		{"direct", "each layer straight onto the paper", []string{"paper"}},
	}
}

// RouteByID returns the route of that id.
func RouteByID(id string) (Route, bool) {
	for _, r := range Routes() {
		if r.ID == id {
			return r, true
		}
	}
	return Route{}, false
}

// Own is the id of a route that the user has put together, and MostSupports how many supports
// it can have.
const (
	Own          = "own"
	MostSupports = 6
)

// OwnRoute is a route over supports of the user's own, the last of which is the print.
func OwnRoute(supports []string) Route {
	return Route{ID: Own, Name: "your own: " + strings.Join(supports, ", "), Supports: supports}
}

// Check returns why layers cannot be put down on a route, or nil.
func (r Route) Check() error {
	if n := len(r.Supports); n < 1 || n > MostSupports {
		return fmt.Errorf("a route over %d supports: give 1 to %d, in the order that the layers meet them, the last of which is the print", n, MostSupports)
	}
	for i, support := range r.Supports {
		if strings.TrimSpace(support) == "" {
			return fmt.Errorf("support %d of the route has no name", i+1)
		}
	}
	return nil
}

// Transfers is the number of face-to-face transfers that each layer makes.
func (r Route) Transfers() int { return len(r.Supports) }

// Reversed tells whether the printing negatives must be laterally reversed for
// the print to read right: an ordinary negative, its image side on the tissue,
// ends right reading only after an even number of transfers.
func (r Route) Reversed() bool { return r.Transfers()%2 == 1 }

// OuterSurface says what the finished print's surface is: after an even number of transfers
// it is the side that lay on the support before the last.
func (r Route) OuterSurface() string {
	if n := r.Transfers(); n > 0 && n%2 == 0 {
		return "cast of the " + r.Supports[n-2]
	}
	return "relief out"
}

// Step is the stack as it lies on one support.
type Step[L any] struct {
	Support string
	Layers  []L  // from the support up
	Right   bool // the picture reads right, seen from the side of the layers
}

// Steps returns the stack on each support so that the print holds order, given
// from the paper up.
func Steps[L any](r Route, order []L) []Step[L] {
	n := r.Transfers()
	steps := make([]Step[L], n)
	for i := range steps {
		moves := n - 1 - i // whole-stack moves still to come
		layers := slices.Clone(order)
		if moves%2 == 1 {
			slices.Reverse(layers)
		}
		steps[i] = Step[L]{Support: r.Supports[i], Layers: layers, Right: moves%2 == 0}
	}
	return steps
}

// PutDown returns the sequence in which the layers are put on the first
// support so that the print holds order, given from the paper up.
func PutDown[L any](r Route, order []L) []L {
	return slices.Clone(Steps(r, order)[0].Layers)
}
