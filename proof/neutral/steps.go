package neutral

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// The limits of what can be said of a scale's steps, in density.
const (
	MostStep    = 2.0
	MostDensity = 5.0
	mostGiven   = 64 // steps
)

// ReadSteps reads what is known of the steps of a grey scale: one figure is the density
// between neighbouring steps, 0 for not known; several are the steps' own densities from
// one end to the other, which come back rising. Figures are parted by blanks, semicolons
// or commas, with decimal points, or commas where something else parts them. The error
// names the figure.
func ReadSteps(text string) (step float64, densities []float64, err error) {
	parts := stepsOf(text)
	if len(parts) == 0 {
		return 0, nil, nil
	}
	for _, p := range parts {
		d, err := strconv.ParseFloat(p, 64)
		if err != nil || !(d >= 0 && d <= MostDensity) {
			return 0, nil, fmt.Errorf("“%.20s” is no density of a grey scale: give 0 to %g", p, MostDensity)
		}
		densities = append(densities, d)
	}
	if len(densities) == 1 {
		if densities[0] > MostStep {
			return 0, nil, fmt.Errorf("%g: the steps of a grey scale lie 0 to %g apart in density", densities[0], MostStep)
		}
		return densities[0], nil, nil
	}
	if n := len(densities); n < leastSteps || n > mostGiven {
		return 0, nil, fmt.Errorf("%d densities: a grey scale has %d to %d steps; one figure alone is the density between neighbours", n, leastSteps, mostGiven)
	}
	falls := densities[1] < densities[0]
	for i := 1; i < len(densities); i++ {
		if d := densities[i] - densities[i-1]; d == 0 || d < 0 != falls {
			return 0, nil, fmt.Errorf("%g follows %g: give the densities from one end of the scale to the other", densities[i], densities[i-1])
		}
	}
	if falls {
		slices.Reverse(densities)
	}
	return 0, densities, nil
}

// WriteSteps is what ReadSteps reads; "" where nothing is known.
func WriteSteps(step float64, densities []float64) string {
	figure := func(d float64) string { return strconv.FormatFloat(math.Round(1e4*d)/1e4, 'f', -1, 64) }
	if len(densities) == 0 {
		if step == 0 {
			return ""
		}
		return figure(step)
	}
	var out []string
	for _, d := range densities {
		out = append(out, figure(d))
	}
	return strings.Join(out, " ")
}

// stepsOf parts the figures of a text.
func stepsOf(text string) []string {
	text = strings.TrimSpace(text)
	other := strings.ContainsAny(text, " ;\t\n") && !strings.Contains(text, ", ")
	if other || strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.ReplaceAll(text, ",", ".")
	}
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ;,\t\r\n", r) })
}
