package spectrum

// Status is a set of the spectral products by which densitometers read colour, red,
// green and blue (ISO 5-3).
type Status struct {
	ID      string // A, T or E
	weights *[3]Curve
}

// The products of status T and status E, peak 100, in steps of 10 nm, as tabulated in a
// BSD-3-licensed colour library after ISO 5-3:2009; what lies below 380 nm is counted
// there. Their reds and greens are the same but for the ends.
var (
	statusT = [3]Curve{
		tenNm(570, 0.06, 0.45, 29.99, 100, 84.92, 54.95, 25, 10, 5, 1.5, 0.5, 0.3, 0.15, 0.05, 0.01),
		tenNm(480, 1, 5, 27.99, 68.08, 92.04, 100, 87.9, 66.07, 41.98, 21.98, 8.99, 2.5, 0.7, 0.09, 0.01),
		tenNm(380, 0.43, 1.5, 6, 16.98, 39.99, 59.98, 82.04, 93.97, 100, 97.05, 84.92, 65.01, 39.99, 17.99, 5, 0.2, 0.04),
	}
	statusE = [3]Curve{
		tenNm(560, 0.01, 0.06, 0.45, 29.99, 100, 84.92, 54.95, 25, 10, 5, 1.5, 0.5, 0.3, 0.15, 0.05, 0.01),
		tenNm(470, 0.01, 1, 5, 27.99, 68.08, 92.04, 100, 87.9, 66.07, 41.98, 21.98, 8.99, 2.5, 0.7, 0.09, 0.01),
		tenNm(380, 0.28, 2.7, 13, 29.99, 59.98, 82.04, 100, 90.99, 76.03, 46.99, 17.99, 6, 0.8, 0.05, 0.01),
	}
	statusA = [3]Curve{statusARed, statusAGreen, statusABlue}
)

// StatusByID returns the status A, T or E.
func StatusByID(id string) (Status, bool) {
	switch id {
	case "A":
		return Status{id, &statusA}, true
	case "T":
		return Status{id, &statusT}, true
	case "E":
		return Status{id, &statusE}, true
	}
	return Status{}, false
}

// StatusOf is a status of one's own: of an instrument whose products were found.
func StatusOf(id string, red, green, blue Curve) Status {
	return Status{id, &[3]Curve{red, green, blue}}
}

// Weights returns the three rows of products, red, green, blue.
func (s Status) Weights() [3]Curve { return *s.weights }

// Densities are those of a reflectance, red, green and blue, absolute: the perfect
// diffuser has 0. The largest is MaxDensity.
func (s Status) Densities(r Curve) (d [3]float64) {
	for ch := range d {
		d[ch] = density(&s.weights[ch], &r)
	}
	return d
}
