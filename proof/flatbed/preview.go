package flatbed

import (
	"image"
	"image/color"

	"threeply/proof/scan"
	"threeply/proof/spectrum"
)

// Preview is a scan made small enough that no side is longer than most pixels, as a display of
// sRGB shows it, and how many pixels of the scan each of its pixels is wide.
func Preview(s *scan.Scan, most int) (img *image.RGBA, each int) {
	each = max((max(s.W, s.H)+most-1)/most, 1)
	img = image.NewRGBA(image.Rect(0, 0, max(s.W/each, 1), max(s.H/each, 1)))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			var v [3]uint8
			for ch := range v {
				from := min(ch, len(s.Planes)-1)
				sum := float32(0)
				for dy := range min(each, s.H) {
					row := s.Planes[from].Row(y*each + dy)
					for _, code := range row[x*each : min((x+1)*each, s.W)] {
						sum += s.Curves[from][code]
					}
				}
				v[ch] = uint8(255*spectrum.EncodeSRGB(float64(sum)/float64(each*each)) + 0.5)
			}
			img.SetRGBA(x, y, color.RGBA{v[0], v[1], v[2], 255})
		}
	}
	return img, each
}
