package fitness

import (
	"math"
	"slices"

	"threeply/proof/plane"
)

// Infrared is what the infrared channel of a scan shows. Dyes let infrared through, dust
// and scratches do not; silver does not either, so on plates of silver the channel shows
// the picture once more and tells no dust apart. Common practice.
type Infrared struct {
	Slope  float64 // density in infrared for a density of 1 in the picture: near 0 for dyes, near 1 for silver
	Specks float64 // share of the pixels that are darker than around them, 0 … 1
}

const (
	infraredBlock  = 64  // pixels: specks are smaller, the picture's shading is larger; less in small pictures
	infraredMargin = 10  // a tenth of each side is left out: holder and film edge
	speckDensity   = 0.1 // by which a speck is darker than around it; a judgement without a source
	darkest        = 1e-4
)

// Silver tells whether the channel follows the picture so closely that it shows no dust.
func (i Infrared) Silver() bool { return i.Slope > 0.3 }

// InfraredOf compares the infrared channel of a scan with the picture, block by block. The
// curves give the light 0 … 1 of each code.
func InfraredOf(infrared, picture *plane.Plane, infraredLight, pictureLight []float32) Infrared {
	x0, y0 := picture.W/infraredMargin, picture.H/infraredMargin
	x1, y1 := picture.W-x0, picture.H-y0
	block := min(max(min(picture.W, picture.H)/16, 8), infraredBlock)
	var specks, seen int
	var n, sx, sy, sxx, sxy float64
	codes := make([]uint16, 0, block*block)
	for y := y0; y < y1; y += block {
		for x := x0; x < x1; x += block {
			right, bottom := min(x+block, x1), min(y+block, y1)
			codes = codes[:0]
			light := 0.0
			for v := y; v < bottom; v++ {
				codes = append(codes, infrared.Row(v)[x:right]...)
				for _, c := range picture.Row(v)[x:right] {
					light += float64(pictureLight[c])
				}
			}
			all := len(codes)
			slices.Sort(codes)
			around := float64(infraredLight[codes[all*3/4]])
			limit := float32(around * math.Pow(10, -speckDensity))
			dark, _ := slices.BinarySearchFunc(codes, limit, func(c uint16, limit float32) int {
				if infraredLight[c] < limit {
					return -1
				}
				return 1
			})
			specks, seen = specks+dark, seen+all
			a, b := -math.Log10(max(light/float64(all), darkest)), -math.Log10(max(around, darkest))
			n, sx, sy, sxx, sxy = n+1, sx+a, sy+b, sxx+a*a, sxy+a*b
		}
	}
	out := Infrared{Specks: float64(specks) / float64(max(seen, 1))}
	if spread := n*sxx - sx*sx; spread > n*n*1e-4 { // a standard deviation of 0.01 in density
		out.Slope = (n*sxy - sx*sy) / spread
	}
	return out
}
