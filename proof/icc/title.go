package icc

import (
	"fmt"
	"strings"

	"threeply/proof/cube"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Title is the name that a recipe's profile goes by in the lists of other
// programs: palette, order from the paper up, paper, surface, light, and what
// its device colours are relative to, the limit of Output.
func Title(r stack.Recipe, light spectrum.Light, limit float64) string {
	parts := []string{r.Palette.Name, r.Order.String(), r.Paper.Name}
	for _, f := range stack.Finishes() {
		if f.Surface == r.Surface {
			parts = append(parts, f.Name)
		}
	}
	return strings.Join(append(parts, light.Name, full(min(limit, cube.Max))), ", ")
}

// full says what 100 % of a device colour is.
func full(limit float64) string {
	if limit == 1 {
		return "100 % is the whole coat"
	}
	return fmt.Sprintf("100 %% is %.4g of the coat", limit)
}
