package survey

import (
	"math"
	"testing"
)

func TestCellsCoverThePicture(t *testing.T) {
	for _, area := range [][4]int{{0, 0, 900, 600}, {40, 30, 400, 1200}, {0, 0, 5000, 40}, {3, 3, 4, 4}, {0, 0, 100000, 1}} {
		m := New(area, 108)
		if n := len(m.Cells); n == 0 || n > MostCells || n != m.Across*m.Down || m.Fault() != "" {
			t.Errorf("%v: %d × %d cells, %d: %s", area, m.Across, m.Down, n, m.Fault())
		}
		for i := range m.Cells {
			x, y := m.Centre(i)
			if m.At(x, y) != i {
				t.Errorf("%v: the middle of cell %d lies in %d", area, i, m.At(x, y))
			}
		}
	}
}

func TestShares(t *testing.T) {
	m := New([4]int{0, 0, 40, 10}, 4)
	if m.Across != 4 || m.Down != 1 {
		t.Fatalf("%d × %d cells", m.Across, m.Down)
	}
	m.Cells = "mxuo"
	if m.Coverage() != 0.5 || m.Outvoted() != 0.5 || m.Share(Off) != 0.25 || m.Has(2) || !m.Has(1) {
		t.Errorf("coverage %g, elsewhere %g", m.Coverage(), m.Outvoted())
	}
	if none := (Map{}); none.Known() || none.Coverage() != 0 || none.Outvoted() != 0 {
		t.Error("the zero map knows something")
	}
}

func TestFaults(t *testing.T) {
	for name, change := range map[string]func(*Map){
		"too many cells": func(m *Map) { m.Across = 1000 },
		"negative":       func(m *Map) { m.Down = -1 },
		"too few values": func(m *Map) { m.DX = m.DX[1:] },
		"other letters":  func(m *Map) { m.Cells = "?" + m.Cells[1:] },
		"no picture":     func(m *Map) { m.Area[2] = m.Area[0] },
		"overflow":       func(m *Map) { m.Across, m.Down = math.MaxInt, math.MaxInt },
	} {
		m := New([4]int{0, 0, 90, 60}, 20)
		if change(&m); m.Fault() == "" {
			t.Errorf("%s passes", name)
		}
	}
}
