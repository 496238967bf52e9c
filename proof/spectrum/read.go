package spectrum

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// widest is the largest gap in nm between the wavelengths of a measured
// reflectance that is still bridged: 20 nm instruments exist.
const widest = 20

// ParseReflectance reads a reflectance spectrum from text: a line for each
// wavelength with its nm and its reflectance 0..1, parted by blanks, tabs,
// commas or semicolons; empty lines and lines that begin with # are left out,
// and so are a heading before the first of them and a mark of the byte order. The lines must rise from 380 nm or less to 730 or
// more in steps of at most 20. Between them the curve is a straight line. An
// error names the line, the reason and what to do.
func ParseReflectance(text []byte) (Curve, error) {
	var nm, r []float64
	headed := false
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // as some programs begin their texts
	for n, line := range bytes.Split(text, []byte("\n")) {
		s := strings.TrimSpace(string(line))
		if s == "" || s[0] == '#' {
			continue
		}
		at := func(format string, args ...any) (Curve, error) {
			return Curve{}, fmt.Errorf("line %d: %s", n+1, fmt.Sprintf(format, args...))
		}
		fields := strings.FieldsFunc(s, func(c rune) bool { return strings.ContainsRune(" \t,;\r", c) })
		if len(fields) == 0 { // separators alone
			continue
		}
		x, err := strconv.ParseFloat(fields[0], 64)
		switch {
		case err != nil && len(nm) == 0 && !headed:
			headed = true
			continue
		case len(fields) > 2 && strings.Contains(s, ",") && !strings.Contains(s, "."):
			return at("“%.30s” has commas for decimals; write points, such as 380 0.85", s)
		case len(fields) > 2:
			return at("want two numbers, nm and reflectance, found %d; leave the others out", len(fields))
		case len(fields) < 2:
			return at("want two numbers, nm and reflectance, found only “%.20s”", s)
		case err != nil:
			return at("“%.20s” is no wavelength; want nm and reflectance, with a point for decimals", fields[0])
		}
		y, err := strconv.ParseFloat(fields[1], 64)
		if err != nil || math.IsNaN(y) {
			return at("“%.20s” is no reflectance; want a number 0 to 1, with a point for decimals", fields[1])
		}
		switch last := len(nm) - 1; {
		case y < 0:
			return at("the reflectance %g at %g nm is negative; measure again or set it to 0", y, x)
		case y > 1:
			return at("the reflectance %g at %g nm is above 1; divide percent by 100", y, x)
		case !(x >= 200 && x <= 3000):
			return at("%g is no wavelength in nm", x)
		case last >= 0 && x <= nm[last]:
			return at("%g nm comes after %g; put the wavelengths in rising order", x, nm[last])
		case last >= 0 && x-nm[last] > widest && x > First && nm[last] < First+Step*(N-1):
			return at("there is a gap from %g to %g nm; steps may be %d nm at most", nm[last], x, widest)
		}
		nm, r = append(nm, x), append(r, y)
	}
	const end = First + Step*(N-1)
	if len(nm) < 2 {
		return Curve{}, fmt.Errorf("no spectrum found: want lines of nm and reflectance from %d to %d nm", First, end)
	}
	if nm[0] > First || nm[len(nm)-1] < end {
		return Curve{}, fmt.Errorf("the spectrum runs from %g to %g nm; it must reach from %d to %d", nm[0], nm[len(nm)-1], First, end)
	}
	var c Curve
	k := 0
	for i := range c {
		x := Wavelength(i)
		for nm[k+1] < x {
			k++
		}
		w := (x - nm[k]) / (nm[k+1] - nm[k])
		c[i] = min((1-w)*r[k]+w*r[k+1], 1)
	}
	return c, nil
}
