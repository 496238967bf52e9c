package session

import (
	"fmt"

	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// What a print is looked at with, in place of what it has; see But.
const (
	ButWay    = "way" // "straight" or "tuned"
	ButOrder  = "order"
	ButPaper  = "paper"
	ButFinish = "finish"
	ButLight  = "light"
	ButRoom   = "room" // "bench" or "gallery"
)

// But is the print as it is chosen now with one thing in place of another, to be looked at
// against it. It is held nowhere and has no number. ok is false where there is no such thing.
func (s *State) But(what, id string) (h HeldPrint, ok bool) {
	as, name, ok := s.but(what, id)
	if !ok {
		return HeldPrint{}, false
	}
	h = as.Hold(name)
	h.N = 0
	return h, true
}

func (s *State) but(what, id string) (as State, name string, ok bool) {
	as = *s
	switch what {
	case ButWay:
		ok, name = id == "straight" || id == "tuned", "Printed "+id
		as.Way.Straight = id == "straight"
		as.Masked = s.Masked && !as.Way.Straight // masks are of tuned prints
	case ButOrder:
		var order stack.Order
		var err error
		order, err = stack.ParseOrder(id)
		ok, name = err == nil, fmt.Sprintf("From the paper %s, %s, %s", order[0], order[1], order[2])
		as.Order = id
	case ButPaper:
		var paper stack.Paper
		paper, ok = s.PaperByID(id)
		as.Paper, name = id, "On "+paper.Name
	case ButFinish:
		var finish stack.Finish
		finish, ok = stack.FinishByID(id)
		as.Finish, name = id, "With the surface "+finish.Name
	case ButLight:
		var light spectrum.Light
		light, ok = spectrum.LightByID(id)
		as.Light, name = id, light.Name
	case ButRoom:
		ok, name = id == "bench" || id == "gallery", map[bool]string{true: "In the gallery", false: "On the bench"}[id == "gallery"]
		as.Dim = id == "gallery"
	}
	return as, name, ok
}

// Another is one thing that a print can be looked at with, as But takes it.
type Another struct{ What, ID, Name string }

// Buts are all of them but those that the print has.
func (s *State) Buts() []Another {
	var out []Another
	add := func(what, id, now string) {
		if _, name, ok := s.but(what, id); ok && id != now {
			out = append(out, Another{what, id, name})
		}
	}
	way, room := "tuned", "bench"
	if s.Way.Straight && !s.Masked {
		way = "straight"
	}
	if s.Dim {
		room = "gallery"
	}
	add(ButWay, "straight", way)
	add(ButWay, "tuned", way)
	for _, o := range stack.Orders() {
		add(ButOrder, o.String(), s.Order)
	}
	for _, p := range s.Papers() {
		add(ButPaper, p.ID, s.Paper)
	}
	for _, f := range stack.Finishes() {
		add(ButFinish, f.ID, s.Finish)
	}
	for _, l := range spectrum.Lights() {
		add(ButLight, l.ID, s.Light)
	}
	add(ButRoom, "bench", room)
	add(ButRoom, "gallery", room)
	return out
}
