package icc

import (
	"strings"

	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Title is the name that a recipe's profile goes by in the lists of other
// programs: palette, order from the paper up, paper, surface and light.
func Title(r stack.Recipe, light spectrum.Light) string {
	parts := []string{r.Palette.Name, r.Order.String(), r.Paper.Name}
	for _, f := range stack.Finishes() {
		if f.Surface == r.Surface {
			parts = append(parts, f.Name)
		}
	}
	return strings.Join(append(parts, light.Name), ", ")
}
