//go:build js

package main

import (
	"encoding/json"
	"math"
	"syscall/js"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/register"
)

// near is how many pixels two guesses must lie apart for both to be tried.
const near = 16

// jsSeek cuts out of the plates what the chosen mark is looked for in: from the
// pin that was set last to every plate that is not pinned by a person. It gives
// {turn, tries} for the worker's locate, or null where nothing is to be sought.
func (a *app) jsSeek() any {
	m, ok := a.chosenMark()
	from := a.Assign[a.marking.filter]
	if !ok || !a.has() || !m.At[from].Set {
		return nil
	}
	pin := m.At[from]
	tries, lost := []any{}, command.Propose{N: m.N}
	for f := range 3 {
		i := a.Assign[f]
		if i == from || m.At[i].Set && !m.At[i].Proposed {
			continue
		}
		for _, guess := range a.guesses(a.marking.filter, f, pin.X, pin.Y) {
			polarity := [2]bool{a.Sources[from].Film.Negative, a.Sources[i].Film.Negative}
			if around, ok := register.LookAround(a.plates[from][0], a.plates[i][0], polarity, guess, pin.X, pin.Y); ok {
				tries = append(tries, jsAround(i, around))
			}
		}
		a.miss(m.N, i)
		lost.At[i].Sought = true
	}
	if len(tries) == 0 { // the place lies beyond the others: what was proposed for another one goes
		if a.History.Do(lost, "") == nil && a.recompute() == nil {
			a.changed()
		}
		return nil
	}
	a.marking.sought++
	a.marking.seeking = m.N
	a.changed()
	return js.ValueOf(map[string]any{"turn": a.marking.sought, "n": m.N, "tries": tries})
}

// guesses are maps from the plate of one filter to that of another about a
// place: what is known of register, and how the panes show the two, where that
// differs. Whoever pans a pane to the feature says where to look.
func (a *app) guesses(from, to int, x, y float64) []affine.Matrix {
	var out []affine.Matrix
	take := func(key, there affine.Matrix) {
		back, ok := key.Inverse()
		if !ok {
			return
		}
		m := there.Mul(back)
		px, py := m.Apply(x, y)
		for _, o := range out {
			ox, oy := o.Apply(x, y)
			if math.Hypot(px-ox, py-oy) < near {
				return
			}
		}
		out = append(out, m)
	}
	take(a.lay(a.Assign[from]), a.lay(a.Assign[to]))
	if at := a.marking.at; a.look == "marks" {
		take(affine.Translate(at[from][0], at[from][1]).Mul(a.marking.linear[from]),
			affine.Translate(at[to][0], at[to][1]).Mul(a.marking.linear[to]))
	}
	return out
}

// miss notes that a mark is not known in a source; found takes that back.
func (a *app) miss(n, source int) {
	if a.marking.missed == nil {
		a.marking.missed = map[int][3]bool{}
	}
	m := a.marking.missed[n]
	m[source] = true
	a.marking.missed[n] = m
}

func jsAround(source int, r register.Around) map[string]any {
	matrix := make([]any, len(r.Map))
	for i, v := range r.Map {
		matrix[i] = v
	}
	return map[string]any{
		"source": source, "key": jsPart(r.Key), "other": jsPart(r.Other), "map": matrix,
		"polarity": []any{r.Polarity[0], r.Polarity[1]}, "x": r.X, "y": r.Y, "ox": r.OX, "oy": r.OY,
	}
}

func jsPart(p *plane.Plane) map[string]any {
	b := bytesOf(p.Pix)
	out := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(out, b)
	return map[string]any{"w": p.W, "h": p.H, "bytes": out}
}

// jsFound takes what the worker's locate found in a search: its turn, the mark
// and the places as text. What was undone or overtaken meanwhile is dropped.
func (a *app) jsFound(args []js.Value) any {
	turn, n := args[0].Int(), args[1].Int()
	if turn == a.marking.sought {
		a.marking.seeking = 0
	}
	if _, ok := a.markOf(n); !ok || turn != a.marking.sought {
		a.changed()
		return nil
	}
	var places []struct {
		Source          int
		OK              bool
		X, Y, Certainty float64
	}
	err := json.Unmarshal([]byte(args[2].String()), &places)
	c := command.Propose{N: n}
	for i, missed := range a.marking.missed[n] {
		c.At[i].Sought = missed
	}
	for _, p := range places {
		if p.OK && p.Source >= 0 && p.Source < 3 {
			c.At[p.Source] = command.Proposal{Sought: true, Found: true, X: p.X, Y: p.Y, Certainty: p.Certainty}
			missed := a.marking.missed[n]
			missed[p.Source] = false
			a.marking.missed[n] = missed
		}
	}
	if err == nil {
		err = a.History.Do(c, "")
	}
	if err == nil {
		a.meetProposed(n)
		err = a.recompute()
	}
	if err != nil {
		a.say("error", a.sentence(err))
	}
	a.changed()
	return answer(err)
}

// meetProposed moves the plates whose pin is proposed so that their panes show
// it where the pane of the plate that was pinned has it.
func (a *app) meetProposed(n int) {
	m, _ := a.markOf(n)
	from := a.marking.filter
	pin := m.At[a.Assign[from]]
	back, ok := a.marking.linear[from].Inverse()
	if !ok || a.look != "marks" || !pin.Set {
		return
	}
	x, y := back.Apply(pin.X-a.marking.at[from][0], pin.Y-a.marking.at[from][1])
	for f := range 3 {
		if p := m.At[a.Assign[f]]; f != from && p.Set && p.Proposed {
			dx, dy := a.marking.linear[f].Apply(x, y)
			a.marking.at[f] = [2]float64{p.X - dx, p.Y - dy}
		}
	}
	a.holdMarks()
}
