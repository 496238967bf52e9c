package neutral

import (
	"fmt"
	"math"
	"strings"

	"threeply/proof/filter"
)

// Remedy is what evens out a plate's greys.
type Remedy string

// The remedies, least first.
const (
	Nothing  Remedy = "nothing"  // its greys agree with the key's
	Exposure Remedy = "exposure" // exposure alone cures the difference
	Slope    Remedy = "slope"    // it needs a curve of another slope
	Bent     Remedy = "curve"    // it needs a curve that bends
	Beyond   Remedy = "beyond"   // greys are lost that no curve brings back
)

// Remedy says what evens out the plate.
func (c Curve) Remedy() Remedy {
	switch {
	case c.Merged > 0 || c.AfterCurve > 2*Visible:
		return Beyond
	case c.AfterExposure <= Visible && math.Abs(c.Shift) <= Visible:
		return Nothing
	case c.AfterExposure <= Visible:
		return Exposure
	case c.AfterSlope <= Visible:
		return Slope
	}
	return Bent
}

// Words says of plate i, in a sentence or two, how its greys stand to the
// key's and what evens them out; "" of the key itself.
func (m Match) Words(i int) string {
	if i == m.Key {
		return ""
	}
	c := m.Plates[i]
	name, key := filter.Filter(i).String(), filter.Filter(m.Key).String()
	switch c.Remedy() {
	case Nothing:
		return fmt.Sprintf("The greys of the %s plate agree with those of the %s plate.", name, key)
	case Exposure:
		return fmt.Sprintf("The greys of the %s plate run alongside those of the %s plate%s: exposure alone cures it.", name, key, c.side())
	case Slope:
		return fmt.Sprintf("The %s plate is %s than the %s plate, γ %.2f of its%s. Exposure alone would leave a cast that turns with the tone (%.2f in density); a curve of another slope cures it.",
			name, c.contrast(), key, c.Slope, c.side(), c.AfterExposure)
	case Bent:
		return fmt.Sprintf("The greys of the %s plate bend against those of the %s plate (γ %.2f of its%s): a toe or a shoulder. No one exposure and no straight line cures it (%.2f in density would be left); the curve through the greys does.",
			name, key, c.Slope, c.side(), c.AfterSlope)
	}
	if c.Merged > 0 {
		return fmt.Sprintf("%s that the %s plate tells apart %s the same density in the %s plate. No curve brings that back: the cast there stays.",
			strings.ToUpper(pairs(c.Merged)[:1])+pairs(c.Merged)[1:], key, map[bool]string{true: "has", false: "have"}[c.Merged == 1], name)
	}
	return fmt.Sprintf("The greys of the %s plate do not rise and fall with those of the %s plate: %.2f in density is left after the best curve. Are all of them grey, and in one light?", name, key, c.AfterCurve)
}

func pairs(n int) string {
	if n == 1 {
		return "one pair of neighbouring greys"
	}
	return fmt.Sprintf("%d pairs of neighbouring greys", n)
}

func (c Curve) contrast() string {
	if c.Slope < 1 {
		return "softer"
	}
	return "harder"
}

// side says how much more or less light the plate got.
func (c Curve) side() string {
	if math.Abs(c.Shift) <= Visible {
		return ""
	}
	more := "more"
	if c.Stops < 0 {
		more = "less"
	}
	return fmt.Sprintf(", %.2f stop %s", math.Abs(c.Stops), more)
}
