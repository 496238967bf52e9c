package model

import (
	"fmt"

	"threeply/proof/stack"
	"threeply/proof/transfer"
)

// Turns are the route of transfers and the stack after each.
type Turns struct {
	Route     string   `json:"route"`
	Routes    []Named  `json:"routes"`
	OwnRoute  []string `json:"ownRoute"` // supports of the user's own route; none where there is none
	Turns     []Turn   `json:"turns"`
	PutDown   []string `json:"putDown"` // layers as they come onto the first support
	Negatives string   `json:"negatives"`
	Surface   string   `json:"surface"`
}

// Turn is the stack after one transfer.
type Turn struct {
	Support string   `json:"support"`
	Reads   string   `json:"reads"`
	Layers  []string `json:"layers"` // from the top down
	Words   string   `json:"words"`
}

type turnsOn struct {
	route transfer.Route
	own   []string
	order stack.Order
}

func onTurns(in Input) turnsOn {
	return turnsOn{in.Session.Transfer(), in.Session.OwnRoute, in.Prints.Likely().Recipe.Order}
}

func makeTurns(on turnsOn) Turns {
	out := Turns{Route: on.route.ID, OwnRoute: append([]string{}, on.own...)}
	for _, r := range transfer.Routes() {
		out.Routes = append(out.Routes, Named{r.ID, r.Name})
	}
	if len(on.own) > 0 {
		out.Routes = append(out.Routes, Named{transfer.Own, transfer.OwnRoute(on.own).Name})
	}
	r := on.route
	out.Negatives, out.Surface = "ordinary", r.OuterSurface()
	if r.Reversed() {
		out.Negatives = "reversed"
	}
	for _, layer := range transfer.PutDown(r, on.order[:]) {
		out.PutDown = append(out.PutDown, layer.String())
	}
	for _, step := range transfer.Steps(r, on.order[:]) {
		t := Turn{Support: step.Support, Reads: "right"}
		side := "reads right"
		if !step.Right {
			t.Reads, side = "reversed", "is reversed"
		}
		for i := len(step.Layers) - 1; i >= 0; i-- {
			t.Layers = append(t.Layers, step.Layers[i].String())
		}
		t.Words = fmt.Sprintf("%s on top, %s next to the %s; the picture %s", step.Layers[2], step.Layers[0], step.Support, side)
		out.Turns = append(out.Turns, t)
	}
	return out
}
