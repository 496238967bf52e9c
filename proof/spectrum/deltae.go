package spectrum

import "math"

// DeltaE00 is the CIEDE2000 colour difference with all parametric factors 1
// (ISO/CIE 11664-6; Sharma, Wu and Dalal, Color Res. Appl. 30, 2005, 21, whose
// numbering of steps is followed). It jumps a little where the two hues lie
// opposite each other; that is in the formula.
func DeltaE00(a, b Lab) float64 {
	const pow25 = 6103515625 // 25⁷
	c1, c2 := math.Hypot(a[1], a[2]), math.Hypot(b[1], b[2])
	c7 := math.Pow((c1+c2)/2, 7)
	g := 0.5 * (1 - math.Sqrt(c7/(c7+pow25))) // (4)
	a1, a2 := (1+g)*a[1], (1+g)*b[1]
	c1, c2 = math.Hypot(a1, a[2]), math.Hypot(a2, b[2])
	h1, h2 := hue(a1, a[2]), hue(a2, b[2])

	dL, dC := b[0]-a[0], c2-c1
	dh, mean := 0.0, h1+h2 // (10), (14) where one of the two has no hue
	if c1*c2 != 0 {
		switch dh = h2 - h1; {
		case dh > 180:
			dh -= 360
		case dh < -180:
			dh += 360
		}
		switch {
		case math.Abs(h1-h2) <= 180:
			mean = (h1 + h2) / 2
		case h1+h2 < 360:
			mean = (h1 + h2 + 360) / 2
		default:
			mean = (h1 + h2 - 360) / 2
		}
	}
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(rad(dh/2)) // (11)

	l, c := (a[0]+b[0])/2, (c1+c2)/2
	t := 1 - 0.17*math.Cos(rad(mean-30)) + 0.24*math.Cos(rad(2*mean)) +
		0.32*math.Cos(rad(3*mean+6)) - 0.20*math.Cos(rad(4*mean-63)) // (15)
	q := (mean - 275) / 25
	c7 = math.Pow(c, 7)
	sL := 1 + 0.015*(l-50)*(l-50)/math.Sqrt(20+(l-50)*(l-50))
	sC := 1 + 0.045*c
	sH := 1 + 0.015*c*t
	rT := -math.Sin(rad(60*math.Exp(-q*q))) * 2 * math.Sqrt(c7/(c7+pow25)) // (21)
	dL, dC, dH = dL/sL, dC/sC, dH/sH
	return math.Sqrt(max(0, dL*dL+dC*dC+dH*dH+rT*dC*dH)) // (22)
}

// hue is the angle of (a, b) in degrees, 0..360, and 0 where there is none.
func hue(a, b float64) float64 {
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

func rad(degrees float64) float64 { return degrees * math.Pi / 180 }
