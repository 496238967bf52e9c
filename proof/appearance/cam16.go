package appearance

import (
	"math"

	"threeply/proof/spectrum"
)

// Room is where a colour is looked at.
type Room struct {
	White      spectrum.XYZ // of the light, Y 100
	Adapting   float64      // cd/m², a fifth of what white has
	Background float64      // Y of the surround of the picture, 20 for mid grey
}

// Luminance is what a matt surface of a reflectance sends back under an
// illuminance in lux, in cd/m².
func Luminance(lux, reflectance float64) float64 { return lux * reflectance / math.Pi }

// Lit is a room of an illuminance in lux: the eye adapts to a fifth of what a
// white reflects there.
func Lit(white spectrum.XYZ, lux float64) Room { return Room{white, Luminance(lux, 1) / 5, 20} }

// Correlates are what the eye makes of a colour.
type Correlates struct {
	J float64 // lightness, white 100
	M float64 // colourfulness
	H float64 // hue angle, degrees
	Q float64 // brightness
	C float64 // chroma
}

// room is a Room made ready, in the letters of the standard.
type room struct {
	d                 [3]float64
	fl, nbb, z, aw, k float64
}

// The average surround of CIE 248:2022 table 1; there is no other here.
const (
	surroundC  = 0.69
	surroundNc = 1.0
	surroundF  = 1.0
)

var (
	m16     = [9]float64{0.401288, 0.650173, -0.051461, -0.250268, 1.204414, 0.045854, -0.002079, 0.048952, 0.953127}
	fromM16 = spectrum.Inverse(m16)
)

func (r Room) ready() room {
	la := max(r.Adapting, 0)
	var o room
	rw := spectrum.Transform(m16, r.White)
	d := min(max(surroundF*(1-math.Exp((-la-42)/92)/3.6), 0), 1)
	for i := range o.d {
		o.d[i] = d*r.White[1]/rw[i] + 1 - d
	}
	k := 1 / (5*la + 1)
	k4 := k * k * k * k
	o.fl = 0.2*k4*5*la + 0.1*(1-k4)*(1-k4)*math.Cbrt(5*la)
	n := r.Background / r.White[1]
	o.nbb = 0.725 * math.Pow(n, -0.2)
	o.z = 1.48 + math.Sqrt(n)
	o.k = math.Pow(1.64-math.Pow(0.29, n), 0.73)
	o.aw = o.achromatic(o.compress(rw))
	return o
}

// compress adapts cone-like signals to the room and bends them as the eye does.
func (o *room) compress(rgb [3]float64) [3]float64 {
	for i, v := range rgb {
		x := math.Pow(o.fl*math.Abs(v*o.d[i])/100, 0.42)
		rgb[i] = math.Copysign(400*x/(x+27.13), v) + 0.1
	}
	return rgb
}

func (o *room) achromatic(a [3]float64) float64 { return (2*a[0] + a[1] + a[2]/20 - 0.305) * o.nbb }

// eccentricity is e_t N_c N_cb 50000/13.
func (o *room) eccentricity(h float64) float64 {
	return 50000.0 / 13 * surroundNc * o.nbb * (math.Cos(h+2) + 3.8) / 4
}

// Look returns the correlates of a colour (CIE 248:2022, the CIECAM16 model; C.
// Li et al., Color Res. Appl. 42, 2017, 703, appendix).
func (r Room) Look(x spectrum.XYZ) Correlates {
	o := r.ready()
	return o.look(x)
}

func (o *room) look(x spectrum.XYZ) Correlates {
	p := o.compress(spectrum.Transform(m16, x))
	a := p[0] - 12*p[1]/11 + p[2]/11
	b := (p[0] + p[1] - 2*p[2]) / 9
	h := math.Atan2(b, a)
	j := 100 * math.Pow(max(o.achromatic(p)/o.aw, 0), surroundC*o.z)
	t := o.eccentricity(h) * math.Hypot(a, b) / (p[0] + p[1] + 21*p[2]/20)
	c := math.Pow(max(t, 0), 0.9) * math.Sqrt(j/100) * o.k
	degrees := h * 180 / math.Pi
	if degrees < 0 {
		degrees += 360
	}
	fl4 := math.Sqrt(math.Sqrt(o.fl))
	return Correlates{J: j, M: c * fl4, H: degrees, Q: 4 / surroundC * math.Sqrt(j/100) * (o.aw + 4) * fl4, C: c}
}

// colour is the inverse of look, from J, M and H.
func (o *room) colour(w Correlates) spectrum.XYZ {
	if w.J <= 0 {
		return spectrum.XYZ{}
	}
	sin, cos := math.Sincos(w.H * math.Pi / 180)
	t := math.Pow(w.M/math.Sqrt(math.Sqrt(o.fl))/(math.Sqrt(w.J/100)*o.k), 1/0.9)
	p1 := o.eccentricity(w.H * math.Pi / 180)
	p2 := o.aw*math.Pow(w.J/100, 1/(surroundC*o.z))/o.nbb + 0.305
	g := 23 * p2 * t / (23*p1 + 11*t*cos + 108*t*sin)
	a, b := g*cos, g*sin
	p := [3]float64{(460*p2 + 451*a + 288*b) / 1403, (460*p2 - 891*a - 261*b) / 1403, (460*p2 - 220*a - 6300*b) / 1403}
	for i, v := range p {
		v -= 0.1
		x := min(math.Abs(v), 399.9)
		p[i] = math.Copysign(100/o.fl*math.Pow(27.13*x/(400-x), 1/0.42), v) / o.d[i]
	}
	return spectrum.Transform(fromM16, p)
}
