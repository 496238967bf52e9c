package main

import "math"

// bands is the number of wavelengths that the scene is rendered at: 400 to
// 700 nm in steps of 20 nm.
const bands = 16

// wavelength returns the middle of band i in nm.
func wavelength(i int) float64 { return 400 + 20*float64(i) }

// spectrum holds a reflectance, transmittance or radiance at the bands.
type spectrum [bands]float32

func (a spectrum) mul(b *spectrum) spectrum {
	for i := range a {
		a[i] *= b[i]
	}
	return a
}

func (a spectrum) scale(s float64) spectrum {
	f := float32(s)
	for i := range a {
		a[i] *= f
	}
	return a
}

// addScaled adds s times b to a.
func (a *spectrum) addScaled(s float64, b *spectrum) {
	f := float32(s)
	for i := range a {
		a[i] += f * b[i]
	}
}

// mix returns a·(1-t) + b·t.
func mix(a, b spectrum, t float64) spectrum {
	f := float32(t)
	for i := range a {
		a[i] += f * (b[i] - a[i])
	}
	return a
}

// curve samples a function of the wavelength in nm.
func curve(f func(nm float64) float64) spectrum {
	var s spectrum
	for i := range s {
		s[i] = float32(f(wavelength(i)))
	}
	return s
}

func flat(v float64) spectrum { return curve(func(float64) float64 { return v }) }

// rise is a smooth step from 0 to 1 at the wavelength at, of width w, nm.
func rise(nm, at, w float64) float64 { return 1 / (1 + math.Exp(-(nm-at)/w)) }

// bell is a bell curve of height 1 at the wavelength at, standard deviation w.
func bell(nm, at, w float64) float64 { x := (nm - at) / w; return math.Exp(-x * x / 2) }

// step is the reflectance of a yellow, orange or red thing: low below the
// wavelength at, high above.
func step(low, high, at, w float64) spectrum {
	return curve(func(nm float64) float64 { return low + (high-low)*rise(nm, at, w) })
}

// hump is the reflectance of a green or blue thing.
func hump(low, high, at, w float64) spectrum {
	return curve(func(nm float64) float64 { return low + (high-low)*bell(nm, at, w) })
}

// blackbody is Planck's law at the temperature kelvin, 1 at 560 nm.
func blackbody(kelvin float64) spectrum {
	planck := func(nm float64) float64 {
		const c2 = 1.438776877e7 // second radiation constant, nm·K (CODATA 2018)
		return math.Pow(nm/560, -5) / math.Expm1(c2/(nm*kelvin))
	}
	return curve(func(nm float64) float64 { return planck(nm) / planck(560) })
}

// The reflectances are invented but plausible: smooth, and with the band
// positions that such things are known for (common practice, no source).
var (
	orangePeel = step(0.045, 0.72, 556, 15)
	lemonPeel  = step(0.07, 0.80, 502, 14)
	applePeel  = curve(func(nm float64) float64 {
		return 0.06 + 0.40*bell(nm, 556, 44) + 0.16*rise(nm, 600, 30) - 0.10*bell(nm, 672, 16)
	})
	appleBlush = step(0.05, 0.46, 602, 16)
	applePale  = step(0.20, 0.62, 500, 18)
	plumPeel   = curve(func(nm float64) float64 {
		return 0.018 + 0.045*bell(nm, 430, 36) + 0.10*rise(nm, 655, 20)
	})
	plumBloom  = hump(0.22, 0.40, 455, 70)
	cherryPeel = step(0.022, 0.40, 618, 14)
	flesh      = curve(func(nm float64) float64 {
		return 0.19 + 0.24*rise(nm, 475, 40) + 0.24*rise(nm, 590, 16) - 0.05*bell(nm, 545, 18) - 0.04*bell(nm, 577, 9)
	})
	lipTint     = step(0.13, 0.56, 598, 15)
	hairPaint   = step(0.030, 0.16, 610, 40)
	madder      = step(0.050, 0.42, 600, 16)
	cream       = step(0.34, 0.74, 470, 36)
	indigo      = hump(0.05, 0.25, 456, 44)
	saffron     = step(0.07, 0.60, 528, 20)
	turquoise   = hump(0.045, 0.46, 494, 44)
	deepBlue    = hump(0.025, 0.26, 458, 34)
	walnut      = step(0.035, 0.22, 590, 55)
	walnutPale  = step(0.07, 0.38, 570, 55)
	wallPaint   = curve(func(nm float64) float64 { return 0.15 + 0.14*rise(nm, 520, 40) - 0.03*rise(nm, 620, 20) })
	wallStencil = curve(func(nm float64) float64 { return 0.25 + 0.23*rise(nm, 510, 45) })
	willow      = step(0.10, 0.50, 545, 42)
	willowDark  = step(0.05, 0.24, 580, 45)
	leafGreen   = curve(func(nm float64) float64 {
		return 0.035 + 0.17*bell(nm, 552, 30) + 0.04*rise(nm, 600, 30) + 0.12*rise(nm, 695, 8)
	})
	leafGrey = hump(0.09, 0.24, 535, 60)
	bark     = step(0.05, 0.18, 590, 50)
	berry    = step(0.035, 0.62, 590, 12)
	paper    = step(0.42, 0.78, 450, 30)
	wax      = step(0.48, 0.82, 450, 30)
	brass    = step(0.42, 0.87, 512, 26)
	copper   = step(0.26, 0.95, 568, 30)
	cordial  = curve(func(nm float64) float64 { return 0.01 + 2.3*(1-rise(nm, 584, 13)) }) // absorption a unit
	glass    = curve(func(nm float64) float64 { return 0.94 + 0.03*bell(nm, 530, 60) })
)
