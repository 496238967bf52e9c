package view

import (
	"fmt"
	"math"
)

// Board is how the board of all palettes is sorted.
type Board struct {
	By      string `json:"by"`      // one of Orders
	Falling bool   `json:"falling"` // the largest first
}

// Order is something that the board can be sorted by.
type Order struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Orders are all that the board can be sorted by.
var Orders = []Order{
	{"kind", "as listed"}, {"name", "name"}, {"era", "era"}, {"L", "L* of the blackest grey"}, {"density", "density of the blackest grey"},
	{"tint", "tint of the full coats"}, {"driftA", "drift of the blackest grey to A"}, {"driftLED", "drift of the blackest grey to the neutral LED"},
	{"volume", "reach"}, {"beyond", "picture that cannot be printed"}, {"mean", "mean ΔE00"}, {"p95", "ΔE00 of 95 %"},
}

func (b *Board) sort(by string, falling bool) error {
	if !isOrder(by) {
		return fmt.Errorf("the board cannot be sorted by “%s”", by)
	}
	b.By, b.Falling = by, falling
	return nil
}

// turn brings an angle within 0 … 360°.
func turn(degrees float64) float64 { return math.Mod(math.Mod(degrees, 360)+360, 360) }
