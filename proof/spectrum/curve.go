package spectrum

// The grid of every Curve: First, First+Step … First+(N-1)·Step nm.
const (
	N     = 71
	First = 380
	Step  = 5
)

// Curve holds one value a wavelength: a reflectance, an absorption, a power.
type Curve [N]float64

// Wavelength returns the wavelength of sample i in nm.
func Wavelength(i int) float64 { return First + Step*float64(i) }

// Wavelengths returns the whole grid in nm.
func Wavelengths() Curve { return Sample(func(nm float64) float64 { return nm }) }

// Sample tabulates f, a function of the wavelength in nm.
func Sample(f func(nm float64) float64) Curve {
	var c Curve
	for i := range c {
		c[i] = f(Wavelength(i))
	}
	return c
}

// Scale returns the curve multiplied by f.
func (c Curve) Scale(f float64) Curve {
	for i := range c {
		c[i] *= f
	}
	return c
}

// Add returns the sum of both curves.
func (c Curve) Add(d Curve) Curve {
	for i := range c {
		c[i] += d[i]
	}
	return c
}
