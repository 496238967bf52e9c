package main

import "math"

// grainSize is the spread of a grain's image, standard deviation in pixels: the
// clumps come out about two pixels wide.
const grainSize = 0.85

// addGrain adds the grain of the plate to its densities. The deviation grows
// with the root of the silver, as in Selwyn's law for areas of one size (The
// Photographic Journal 75, 571, 1935, from memory).
func addGrain(density []float32, w, h int, fog float64, seed uint64) {
	noise := make([]float32, w*h)
	spread(h, func(y int) {
		r := random(hash(seed ^ uint64(y)<<20))
		for x := range w {
			noise[y*w+x] = float32(r.normal())
		}
	})
	noise = blurred(noise, w, h, grainSize)
	level := 2 * grainSize * math.Sqrt(math.Pi) // brings the deviation back to 1
	for i, d := range density {
		deviation := 0.0025 + 0.0085*math.Sqrt(max(float64(d)-fog, 0))
		density[i] = d + float32(deviation*level)*noise[i]
	}
}

// addDamage puts dust, a fibre, pinholes and scratches on the plate, each where
// its own seed says.
func addDamage(density []float32, w, h int, fog float64, seed uint64) {
	r := random(hash(seed ^ 0xd057))
	k := float64(max(w, h)) / defaultSize
	area := k * k
	for range int(34*area) + 2 {
		blot(density, w, h, r.between(0, float64(w)), r.between(0, float64(h)), k*r.between(0.8, 2.6), 0.25+0.8*r.float(), &r)
	}
	for range int(9*area) + 1 {
		blot(density, w, h, r.between(0, float64(w)), r.between(0, float64(h)), k*r.between(0.8, 1.8), -3, &r)
	}
	for range int(3*k) + 1 {
		x, y := r.between(0.1, 0.9)*float64(w), r.between(0.1, 0.9)*float64(h)
		turn, bend := r.between(0, 2*math.Pi), r.between(-0.03, 0.03)/k
		for range int(70 * k) {
			stroke(density, w, h, x, y, 0.7, 0.35)
			turn += bend
			x, y = x+math.Cos(turn), y+math.Sin(turn)
		}
	}
	for range 2 {
		x, y := r.between(0.15, 0.85)*float64(w), r.between(0, 0.5)*float64(h)
		lean := r.between(-0.10, 0.10)
		deep := r.between(0.10, 0.30)
		for range int(r.between(0.2, 0.6) * float64(h)) {
			stroke(density, w, h, x, y, 0.6, -deep)
			x, y = x+lean, y+1
		}
	}
	floor := float32(0.6 * fog)
	for i, d := range density {
		density[i] = max(d, floor)
	}
}

// blot adds density in an uneven spot of radius rad; a negative amount is a
// hole in the emulsion.
func blot(density []float32, w, h int, cx, cy, rad, amount float64, r *random) {
	phase, lobes := r.between(0, 6.28), 0.2+0.2*r.float()
	reach := int(2*rad) + 2
	for y := max(int(cy)-reach, 0); y <= min(int(cy)+reach, h-1); y++ {
		for x := max(int(cx)-reach, 0); x <= min(int(cx)+reach, w-1); x++ {
			dx, dy := float64(x)-cx, float64(y)-cy
			edge := rad * (1 + lobes*math.Sin(3*math.Atan2(dy, dx)+phase))
			density[y*w+x] += float32(amount * ramp(edge-math.Hypot(dx, dy), -0.8, 0.8))
		}
	}
}

// stroke adds one dab of a line.
func stroke(density []float32, w, h int, cx, cy, rad, amount float64) {
	for y := max(int(cy)-2, 0); y <= min(int(cy)+2, h-1); y++ {
		for x := max(int(cx)-2, 0); x <= min(int(cx)+2, w-1); x++ {
			d := math.Hypot(float64(x)-cx, float64(y)-cy)
			density[y*w+x] += float32(0.6 * amount * bell(d, 0, rad))
		}
	}
}

// scan turns densities into the linear 16-bit codes of a scanner whose clear
// light is 65535. At the border the scanner's own holder stops the light.
//
// The step of the codes follows the light, as the noise of the sensor does: 256
// codes in clear film, 32 in dense, which keeps 8 to 11 significant bits and
// stays well below the grain; the lower bits are zero.
func scan(density []float32, w, h int, seed uint64) []uint16 {
	pix := make([]uint16, w*h)
	r := random(hash(seed ^ 0x5ca9))
	size := float64(max(w, h))
	hold := [4]float64{r.between(0.003, 0.007) * size, r.between(0.003, 0.007) * size, r.between(0.003, 0.007) * size, r.between(0.003, 0.007) * size}
	spread(h, func(y int) {
		r := random(hash(seed ^ 0x0be5 ^ uint64(y)<<24))
		for x := range w {
			in := min(float64(x)-hold[0], float64(y)-hold[1], float64(w-1-x)-hold[2], float64(h-1-y)-hold[3])
			t := math.Pow(10, -float64(density[y*w+x])) * ramp(in, -1, 1)
			t = (t + 0.0004) / 1.0004 // flare
			t += 0.00012*r.normal() + 0.0012*math.Sqrt(t)*r.normal()
			pix[y*w+x] = quantised(t)
		}
	})
	return pix
}

func quantised(t float64) uint16 {
	step := 32.0
	switch {
	case t > 0.25:
		step = 256
	case t > 0.06:
		step = 128
	case t > 0.015:
		step = 64
	}
	return uint16(min(max(math.Round(t*65535/step)*step, 0), 65535))
}
