package scan

import "threeply/proof/plane"

// orient turns p upright as the orientation tag says (TIFF 6.0, page 36): 2
// mirrored, 3 turned by half, 4 upside down mirrored, 5 … 8 with rows and
// columns exchanged. 1 and anything unknown leave it as it is. p may be
// changed.
func orient(p *plane.Plane, tag int) *plane.Plane {
	switch tag {
	case 2:
		mirror(p)
	case 3:
		mirror(p)
		upend(p)
	case 4:
		upend(p)
	case 5:
		p = transpose(p)
	case 6: // the first row is the right side
		p = transpose(p)
		mirror(p)
	case 7:
		p = transpose(p)
		mirror(p)
		upend(p)
	case 8: // the first row is the left side, read from below
		p = transpose(p)
		upend(p)
	}
	return p
}

func mirror(p *plane.Plane) {
	for y := range p.H {
		row := p.Row(y)
		for i, j := 0, len(row)-1; i < j; i, j = i+1, j-1 {
			row[i], row[j] = row[j], row[i]
		}
	}
}

func upend(p *plane.Plane) {
	for i, j := 0, p.H-1; i < j; i, j = i+1, j-1 {
		a, b := p.Row(i), p.Row(j)
		for x := range a {
			a[x], b[x] = b[x], a[x]
		}
	}
}

// transpose goes by blocks, so that both planes stay in the cache.
func transpose(p *plane.Plane) *plane.Plane {
	const block = 32
	t := plane.New(p.H, p.W)
	for y0 := 0; y0 < p.H; y0 += block {
		for x0 := 0; x0 < p.W; x0 += block {
			for y := y0; y < min(y0+block, p.H); y++ {
				for x := x0; x < min(x0+block, p.W); x++ {
					t.Pix[x*t.W+y] = p.Pix[y*p.W+x]
				}
			}
		}
	}
	return t
}
