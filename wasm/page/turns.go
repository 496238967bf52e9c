//go:build js

package main

import (
	"fmt"

	"threeply/proof/transfer"
)

// turnsModel is the route of transfers and the stack after each.
type turnsModel struct {
	Route     string      `json:"route"`
	Routes    []named     `json:"routes"`
	Turns     []turnModel `json:"turns"`
	PutDown   []string    `json:"putDown"` // layers as they come onto the first support
	Negatives string      `json:"negatives"`
	Surface   string      `json:"surface"`
}

type turnModel struct {
	Support string   `json:"support"`
	Reads   string   `json:"reads"`
	Layers  []string `json:"layers"` // from the top down
	Words   string   `json:"words"`
}

func (a *app) turnsModel() turnsModel {
	m := turnsModel{Route: a.Route}
	for _, r := range transfer.Routes() {
		m.Routes = append(m.Routes, named{r.ID, r.Name})
	}
	r, _ := transfer.RouteByID(a.Route)
	m.Negatives, m.Surface = "ordinary", r.OuterSurface()
	if r.Reversed() {
		m.Negatives = "reversed"
	}
	order := a.printing.Recipe.Order
	for _, layer := range transfer.PutDown(r, order[:]) {
		m.PutDown = append(m.PutDown, layer.String())
	}
	for _, step := range transfer.Steps(r, order[:]) {
		t := turnModel{Support: step.Support, Reads: "right"}
		if !step.Right {
			t.Reads = "reversed"
		}
		for i := len(step.Layers) - 1; i >= 0; i-- {
			t.Layers = append(t.Layers, step.Layers[i].String())
		}
		side := "reads right"
		if !step.Right {
			side = "is reversed"
		}
		t.Words = fmt.Sprintf("%s on top, %s next to the %s; the picture %s", step.Layers[2], step.Layers[0], step.Support, side)
		m.Turns = append(m.Turns, t)
	}
	return m
}
