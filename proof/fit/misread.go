package fit

import (
	"fmt"

	"threeply/proof/pigment"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// Misread is a way in which a sheet was read otherwise than by its plan.
type Misread struct {
	Words string // such as "upside down"

	from map[string]string // the patch that is read under each id
}

// How much better the readings must agree with what the palette is taken to print, in
// squares of what they differ by: over the whole sheet, and over two rows.
const (
	wholeBetter = 0.5
	rowsBetter  = 0.25
)

// Misread tells whether the readings agree much better with the sheet read upside down,
// mirrored, or with two rows swapped; nil where they do not. They are held against what
// the palette is taken to print, after the straight line between both: what a workshop's
// tissues differ by moves all patches alike, what was read elsewhere does not.
func (r *Readings) Misread(sheet *testsheet.Sheet, recipe stack.Recipe) *Misread {
	expected := r.expected(sheet, recipe)
	as := func(row, col int) string { return testsheet.ID(row, col) }
	plain := r.strays(expected, func(p testsheet.Patch) string { return p.ID }, sheet)
	best, words, bestFrom := 0.0, "", map[string]string(nil)
	try := func(said string, from func(p testsheet.Patch) string, better float64, rows ...int) {
		now := r.strays(expected, from, sheet)
		var a, b float64
		for _, p := range sheet.Patches {
			if len(rows) > 0 && p.Row != rows[0] && p.Row != rows[1] {
				continue
			}
			a, b = a+plain[p.ID], b+now[p.ID]
		}
		if gain := a - b; b < better*a && gain > best {
			best, words, bestFrom = gain, said, map[string]string{}
			for _, p := range sheet.Patches {
				bestFrom[p.ID] = from(p)
			}
		}
	}
	last, right := sheet.Rows-1, sheet.Cols-1
	try("upside down", func(p testsheet.Patch) string { return as(last-p.Row, right-p.Col) }, wholeBetter)
	try("upside down", func(p testsheet.Patch) string { // the dark ground is a copy apart
		if p.Row >= sheet.DarkRow {
			return p.ID
		}
		return as(sheet.DarkRow-1-p.Row, right-p.Col)
	}, wholeBetter)
	try("mirrored", func(p testsheet.Patch) string { return as(p.Row, right-p.Col) }, wholeBetter)
	for a := range sheet.Rows {
		for b := range a {
			m := swap(sheet, b, a)
			try(m.Words, func(p testsheet.Patch) string { return m.from[p.ID] }, rowsBetter, a, b)
		}
	}
	if bestFrom == nil {
		return nil
	}
	return &Misread{words, bestFrom}
}

// swap is two rows read for each other.
func swap(sheet *testsheet.Sheet, one, other int) *Misread {
	m := &Misread{fmt.Sprintf("with rows %c and %c swapped", 'A'+one, 'A'+other), map[string]string{}}
	for _, p := range sheet.Patches {
		row := p.Row
		switch row {
		case one:
			row = other
		case other:
			row = one
		}
		m.from[p.ID] = testsheet.ID(row, p.Col)
	}
	return m
}

// Mend takes the readings for those of the patches that they are of.
func (r *Readings) Mend(m *Misread) {
	by := map[string]*read{}
	for id, from := range m.from {
		if one, ok := r.by[from]; ok {
			by[id] = one
		}
	}
	r.by = by
	r.Notes = append(r.Notes, fmt.Sprintf("The sheet was read %s; the readings were put right.", m.Words))
}

// expected is what the palette is taken to print, as the readings tell it.
func (r *Readings) expected(sheet *testsheet.Sheet, recipe stack.Recipe) map[string][3]float64 {
	dark := recipe
	for i := range dark.Paper.R {
		dark.Paper.R[i] *= 0.05
	}
	on := map[string]*stack.Layers{testsheet.White: recipe.Layers(), testsheet.Dark: dark.Layers()}
	out := map[string][3]float64{}
	for _, p := range sheet.Patches {
		var t [3]float64
		for l, has := range p.Has {
			if has {
				t[l] = testsheet.ScaleOf(recipe.Palette.Layer(pigment.Printer(l))).Share(p.LogE[l])
			}
		}
		c := on[p.Ground].Reflectance(t)
		if r.byDensity() {
			out[p.ID] = r.status.Densities(c)
		} else {
			out[p.ID] = r.light.Lab(c)
		}
	}
	return out
}

// strays are the squares by which the readings differ from what is expected, by patch,
// where from names the patch that each is read under: in each of the three values, after
// the straight line between both.
func (r *Readings) strays(expected map[string][3]float64, from func(p testsheet.Patch) string, sheet *testsheet.Sheet) map[string]float64 {
	out := map[string]float64{}
	for ch := range 3 {
		var n, sx, sy, sxx, sxy float64
		each := func(do func(id string, x, y float64)) {
			for _, p := range sheet.Patches {
				one, ok := r.by[from(p)]
				if !ok || p.Use == testsheet.HeldOut { // no part of what is held out goes into a fit
					continue
				}
				y := one.lab[ch]
				if r.byDensity() {
					y = one.density[ch]
				}
				do(p.ID, expected[p.ID][ch], y)
			}
		}
		each(func(_ string, x, y float64) { n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y })
		d := n*sxx - sx*sx
		if d <= 0 {
			continue
		}
		slope := (n*sxy - sx*sy) / d
		each(func(id string, x, y float64) {
			off := y - (sy-slope*sx)/n - slope*x
			out[id] += off * off
		})
	}
	return out
}
