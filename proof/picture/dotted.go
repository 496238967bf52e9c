package picture

import (
	"threeply/proof/cube"
	"threeply/proof/relief"
	"threeply/proof/screen"
	"threeply/proof/spectrum"
)

// Dotted is the same print from screened negatives, and the areas that its dots have:
// dots as high as the depth's layers stand for heights, so that the wash takes none of
// the lightest tones. It is always tuned. What the printing tells of heights, such as
// Relief and Losses, holds for the continuous print still.
func (p *Printing) Dotted() (*Printing, *screen.Scale) {
	dots, scale := p.dotScale()
	q := *p
	q.dots = scale
	q.Cube = cube.Of(dots.Lab, p.Light.White, CubeNodes)
	q.turned = func(w relief.Way) relief.Way {
		if p.turned != nil {
			w = p.turned(w)
		}
		w.Straight = false
		return w
	}
	q.encode(p.space)
	return &q, q.dots
}

// DotScale are the areas of Dotted alone.
func (p *Printing) DotScale() *screen.Scale {
	_, scale := p.dotScale()
	return scale
}

func (p *Printing) dotScale() (*screen.Dots, *screen.Scale) {
	layers := p.Recipe.Layers()
	dots := screen.NewDots(layers, p.Light, p.Scale.Thickness(1))
	return dots, dots.Scale(func(u float64) spectrum.Lab { return p.Light.Lab(layers.Reflectance(p.Scale.Thickness(u))) })
}
