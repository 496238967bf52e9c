package plate

import "threeply/proof/plane"

// pictureArea finds the picture inside borders.
func pictureArea(p *plane.Plane) [4]int {
	mx, my := p.W*8/100, p.H*8/100
	return [4]int{mx, my, p.W - mx, p.H - my}
}
