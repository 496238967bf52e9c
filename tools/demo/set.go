package main

import (
	"image"
	"image/color"
	"math"

	"threeply/proof/affine"
)

// defaultSize is the long side of the scans, pixels.
const defaultSize = 1760

// defaultSamples is the most rays a pixel gets.
const defaultSamples = 8

// plateWidth is the long side of a plate of 13 × 18 cm, in inches.
const plateWidth = 18 / 2.54

// resolution of the scans, pixels an inch of the plate.
func resolution(size int) float64 { return math.Round(float64(size) / plateWidth) }

// demoSet is the finished set in memory.
type demoSet struct {
	w, h     int
	exposure exposures // of the key frame, the scene's white at 1
	scans    [3][]uint16
	truth    truth
}

// truth is what truth.json says of the set.
type truth struct {
	Scene      string                `json:"scene"`
	Seed       uint64                `json:"seed"`
	Width      int                   `json:"width"`
	Height     int                   `json:"height"`
	Resolution float64               `json:"resolution_ppi"`
	Key        string                `json:"key"`
	Plates     map[string]plateTruth `json:"plates"`
	GreyScale  []greyTruth           `json:"grey_scale"`
}

// plateTruth is how one plate was made. Matrix takes a pixel of the key (x, y),
// centres at whole numbers, to the plate's pixel. Exposure is the factor on the
// exposure that would show greys alike on all plates.
type plateTruth struct {
	File     string        `json:"file"`
	Matrix   affine.Matrix `json:"matrix"`
	Film     emulsion      `json:"film"`
	Exposure float64       `json:"exposure"`
	Blur     float64       `json:"blur_px"`
}

// greyTruth is one step of the grey scale: the box of whole pixels in the key
// frame, left, top, width and height; the neutral reflection density; and the
// density that the step has on each plate before grain and damage.
type greyTruth struct {
	Box         [4]int             `json:"box"`
	Reflectance float64            `json:"reflectance"`
	Density     float64            `json:"density"`
	OnPlate     map[string]float64 `json:"density_on_plate"`
}

// sceneName begins the names of the files.
const sceneName = "winter-table"

// makeSet renders the scene with the long side size and rays rays a pixel, and
// takes it through three plates.
func makeSet(size, rays int, seed uint64) demoSet {
	w, h := size, int(math.Round(float64(size)*13/18)) // a plate of 13 × 18 cm
	s := arrange(w, h)
	const ceiling = 0.17 // of the lamp's radiance, about eight times a white matt surface
	e := render(s.world, &s.camera, sensitivity(s.lamp.glow), rays, seed, ceiling)
	set := demoSet{w: w, h: h, exposure: e}
	set.truth = truth{Scene: sceneName, Seed: seed, Width: w, Height: h, Resolution: resolution(size), Key: "green", Plates: map[string]plateTruth{}}
	for i := range steps {
		r := math.Pow(10, -stepDensity(i))
		set.truth.GreyScale = append(set.truth.GreyScale, greyTruth{s.greys.box(&s.camera, i), r, stepDensity(i), map[string]float64{}})
	}
	for k, p := range plates(w, h, seed) {
		set.balance(k)
		for i := range set.truth.GreyScale {
			g := &set.truth.GreyScale[i]
			g.OnPlate[p.name] = p.film.density(p.exposure * mean(e.plate[k], w, g.Box))
		}
		set.scans[k] = p.develop(e.plate[k], w, h)
		set.truth.Plates[p.name] = plateTruth{sceneName + "_" + p.name + ".tif", p.matrix, p.film, p.exposure, p.blur}
	}
	return set
}

// balance sets the exposure of plate k by the first step of the grey scale, as
// a photographer finds the factor of a filter.
func (s *demoSet) balance(k int) {
	white := s.truth.GreyScale[0]
	f := float32(white.Reflectance / mean(s.exposure.plate[k], s.w, white.Box))
	for i := range s.exposure.plate[k] {
		s.exposure.plate[k][i] *= f
	}
}

// mean is the average over a box of left, top, width and height.
func mean(pix []float32, w int, box [4]int) float64 {
	sum := 0.0
	for y := box[1]; y < box[1]+box[3]; y++ {
		for x := box[0]; x < box[0]+box[2]; x++ {
			sum += float64(pix[y*w+x])
		}
	}
	return sum / float64(box[2]*box[3])
}

// develop takes the exposures of the key frame to the scan of plate p.
func (p *plate) develop(key []float32, w, h int) []uint16 {
	density := p.expose(key, w, h)
	spread(h, func(y int) {
		for x := range w {
			density[y*w+x] = float32(p.film.density(float64(density[y*w+x])))
		}
	})
	addGrain(density, w, h, p.film.Fog, p.seed)
	addDamage(density, w, h, p.film.Fog, p.seed)
	return scan(density, w, h, p.seed)
}

// preview is the additive picture of the three exposures in register.
func (s *demoSet) preview() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	for y := range s.h {
		for x := range s.w {
			var c [3]uint8
			for k := range c {
				c[k] = encoded(float64(s.exposure.plate[k][y*s.w+x]))
			}
			img.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	return img
}

// encoded is the sRGB code of a linear value (IEC 61966-2-1).
func encoded(v float64) uint8 {
	v = min(max(v, 0), 1)
	if v <= 0.0031308 {
		return uint8(math.Round(255 * 12.92 * v))
	}
	return uint8(math.Round(255 * (1.055*math.Pow(v, 1/2.4) - 0.055)))
}
