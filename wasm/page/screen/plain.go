//go:build js

package screen

import (
	"image"
	"image/color"
	"image/draw"
	"syscall/js"
	"time"

	"threeply/proof/affine"
	"threeply/proof/render"
	"threeply/wasm/page/breath"
)

// plain draws the pictures where there is no WebGL 2, by the functions that define them
// (defined): first one pixel in sixteen, then all of them, a few rows at a time, for that
// takes a second or more.
type plain struct {
	screen          *Screen
	canvas, context js.Value
	frame           js.Func
	asked           bool // for a frame
	turn            int  // of drawing: the next ends the one before
	picture         *image.RGBA
}

// coarse is how many pixels of a row and of a column stand for one at first, and atOnce how
// long rows are drawn before the page is let go.
const (
	coarse = 4
	atOnce = 25 * time.Millisecond
)

// NewPlain makes a screen that the program itself paints on a canvas.
func NewPlain(canvas js.Value) *Screen {
	s := &Screen{}
	s.DrawPlain(canvas)
	return s
}

// DrawPlain has the program itself paint on a canvas from now on, as where the graphics card was lost.
func (s *Screen) DrawPlain(canvas js.Value) {
	p := &plain{screen: s, canvas: canvas, context: canvas.Call("getContext", "2d")}
	p.frame = js.FuncOf(func(js.Value, []js.Value) any {
		p.asked = false
		p.turn++
		go p.draw(p.turn)
		return nil
	})
	s.plain = p
}

func (p *plain) schedule() {
	if !p.asked {
		p.asked = true
		js.Global().Call("requestAnimationFrame", p.frame)
	}
}

// drawing is a pane on its way.
type drawing struct {
	r      image.Rectangle
	colour func(x, y float64) []render.RGB // by the pane's own pixels
	under  image.Rectangle                 // what lies over it and stays
}

// draw draws the scene, until another turn begins.
func (p *plain) draw(turn int) {
	scene := p.screen.Scene()
	stage := scene.View.Stage
	size := image.Rect(0, 0, int(stage.W*stage.Ratio+0.5), int(stage.H*stage.Ratio+0.5))
	if size.Empty() {
		return
	}
	if p.picture == nil || p.picture.Rect != size {
		p.picture = image.NewRGBA(size)
		p.canvas.Set("width", size.Dx())
		p.canvas.Set("height", size.Dy())
	}
	l := layout{}
	if scene.Plates.Open() {
		l.of(scene)
	}
	fill := func(r image.Rectangle, c color.Color) {
		draw.Draw(p.picture, r, image.NewUniform(c), image.Point{}, draw.Src)
	}
	fill(size, surround)
	for _, paper := range l.papers {
		fill(paper.at, paper.colour)
	}
	fill(l.loupe, loupeGround)
	var all []drawing // made before the page is let go, for then the scene may change
	for i, one := range l.panes {
		toPixel := one.toPixel.Mul(affine.Translate(float64(one.r.Min.X), float64(one.r.Min.Y)))
		d := drawing{r: one.r, colour: defined(scene, one.Pane, toPixel, image.Rectangle{Max: one.r.Size()})}
		if i < l.under {
			d.under = l.loupe
		}
		all = append(all, d)
	}
	for _, d := range all {
		p.rows(d, d.r.Min.Y, d.r.Max.Y, coarse)
	}
	p.show(size)
	if len(all) > 0 {
		p.screen.Drawn()
	}
	for _, d := range all {
		for y := d.r.Min.Y; y < d.r.Max.Y; {
			breath.Take()
			if turn != p.turn {
				return
			}
			from := y
			for begun := time.Now(); y < d.r.Max.Y && time.Since(begun) < atOnce; y++ {
				p.rows(d, y, y+1, 1)
			}
			p.show(image.Rect(d.r.Min.X, from, d.r.Max.X, y))
		}
	}
}

// rows draws rows of a pane, one pixel for step × step.
func (p *plain) rows(d drawing, from, to, step int) {
	for y := from; y < to; y += step {
		for x := d.r.Min.X; x < d.r.Max.X; x += step {
			block := image.Rect(x, y, x+step, y+step).Intersect(d.r).Intersect(p.picture.Rect)
			if block.Empty() || block.In(d.under) {
				continue
			}
			c := d.colour(float64(x-d.r.Min.X), float64(y-d.r.Min.Y))[0]
			for by := block.Min.Y; by < block.Max.Y; by++ {
				for bx := block.Min.X; bx < block.Max.X; bx++ {
					if (image.Point{X: bx, Y: by}).In(d.under) {
						continue
					}
					i := p.picture.PixOffset(bx, by)
					for ch, v := range c {
						p.picture.Pix[i+ch] = uint8(v*255 + 0.5)
					}
					p.picture.Pix[i+3] = 255
				}
			}
		}
	}
}

// show puts a part of the picture on the canvas.
func (p *plain) show(r image.Rectangle) {
	if r = r.Intersect(p.picture.Rect); r.Empty() {
		return
	}
	px := p.screen.room(4 * r.Dx() * r.Dy())
	for y := range r.Dy() {
		at := p.picture.PixOffset(r.Min.X, r.Min.Y+y)
		copy(px[4*r.Dx()*y:], p.picture.Pix[at:at+4*r.Dx()])
	}
	bytes := js.Global().Get("Uint8ClampedArray").New(len(px))
	js.CopyBytesToJS(bytes, px)
	p.context.Call("putImageData", js.Global().Get("ImageData").New(bytes, r.Dx(), r.Dy()), r.Min.X, r.Min.Y)
}
