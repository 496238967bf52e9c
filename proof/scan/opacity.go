package scan

import (
	"fmt"
	"strconv"

	"threeply/proof/plane"
)

// opacities counts the pixels of a picture that are not quite opaque, and lays them on white:
// so a scanner sees what no plate lies on.
type opacities struct {
	through int // pixels that let something through
	unseen  int // those of them that are not to be seen at all
}

// layOnWhite lays one pixel of planes on white, in the codes of the file:
//
//	v·opacity + 65535·(1 − opacity)   or, where v is multiplied by its opacity already,
//	v + 65535·(1 − opacity)
//
// with opacity from 0 to 65535 for 1. Codes of what is seen through half are mixed as
// picture programs mix them, which is common practice, not as light would mix.
func (o *opacities) layOnWhite(planes []*plane.Plane, at int, opacity uint16, multiplied bool) {
	if opacity == 65535 {
		return
	}
	o.through++
	if opacity == 0 {
		o.unseen++
	}
	white := 65535 - uint32(opacity)
	for _, p := range planes {
		v := uint32(p.Pix[at])
		if multiplied {
			v = min(v+white, 65535)
		} else {
			v = (v*uint32(opacity) + 65535*white + 32767) / 65535
		}
		p.Pix[at] = uint16(v)
	}
}

// remarks say how much of a picture was laid on white; one of which nothing would be seen is
// refused.
func (o *opacities) remarks(pixels int) ([]string, *Error) {
	switch {
	case o.unseen == pixels:
		return nil, unsupported("Save it as plain grey or RGB without transparency.", "all of it is transparent")
	case o.through > 0:
		share, _ := strconv.ParseFloat(fmt.Sprintf("%.2g", 100*float64(o.through)/float64(pixels)), 64) // to two digits
		return []string{strconv.FormatFloat(share, 'f', -1, 64) + " % of it is transparent and was laid on white, as where no plate lies"}, nil
	}
	return nil, nil
}
