//go:build js

package main

import (
	"fmt"
	"image"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/render"
)

// comparison is how far the shader's picture lies from the Go renderer's.
type comparison struct {
	Pane   string  `json:"pane"`
	Pixels int     `json:"pixels"`
	Share2 float64 `json:"share2"` // of the pixels within 2/255 in every channel
	Worst  int     `json:"worst"`  // largest distance of any channel, in 255ths
	Where  string  `json:"where"`
}

// answerCompare draws the panes as they stand once more, where the pixels can
// be read, and compares them with the Go renderer. It runs inside a frame:
// outside one the graphics card cannot be read.
func (a *app) answerCompare() {
	if a.compare == nil {
		return
	}
	out := comparison{Share2: 1}
	within := 0
	for _, p := range a.panes() {
		if p.show != showReference && p.show != showPrint {
			continue
		}
		x0, y0, x1, y1 := a.shown(p)
		if x1 <= x0 || y1 <= y0 {
			continue
		}
		level := a.levelFor(p)
		view := a.view(p).Mul([6]float64{1, 0, float64(x0), 0, 1, float64(y0)})
		shot := unmanaged(x1-x0, y1-y0)
		a.drawPane(shot, p, image.Rect(0, 0, x1-x0, y1-y0), view)
		got := make([]byte, 4*(x1-x0)*(y1-y0))
		shot.ReadPixels(got)
		shot.Deallocate()
		printing := a.printingIn(p)
		pic := picture.Assemble(&a.State, printing, printing.Curves(&a.State), a.level(level), view, level)
		for i := range pic.Layers {
			pic.Layers[i].Hidden = pic.Layers[i].Hidden || (p.only != "" && p.only != pigment.Printer(i).String())
		}
		look := render.Print
		if p.show == showReference {
			look = render.Reference
		}
		want := pic.Image(look, x1-x0, y1-y0, nil)
		for i := 0; i < len(got); i += 4 {
			d := 0
			for ch := range 3 {
				d = max(d, int(got[i+ch])-int(want.Pix[i+ch]), int(want.Pix[i+ch])-int(got[i+ch]))
			}
			if d <= 2 {
				within++
			}
			if d > out.Worst {
				out.Worst, out.Pane = d, p.ID
				n := i / 4
				out.Where = fmt.Sprintf("%d,%d: shader %v, Go %v", n%(x1-x0), n/(x1-x0), got[i:i+3], want.Pix[i:i+3])
			}
			out.Pixels++
		}
	}
	if out.Pixels > 0 {
		out.Share2 = float64(within) / float64(out.Pixels)
	}
	a.compare <- out
	a.compare = nil
}
