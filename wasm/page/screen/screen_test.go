//go:build js

package screen

import (
	"image"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"

	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/shader"
	"threeply/wasm/page/view"
)

// The shaders are Kage: everything that the library's compiler finds wrong is found here.
func TestShadersCompile(t *testing.T) {
	for shows := range view.Pictures {
		for _, kind := range []shader.Kind{
			{Shows: shows},
			{Shows: shows, A: pigment.Magenta, B: pigment.Cyan, Masked: true, Another: true, Wide: true},
			{Shows: shows, A: pigment.Cyan, B: pigment.Magenta, Another: true, AnotherMasked: true, Bent: true},
		} {
			if _, err := ebiten.NewShader(shader.Source(kind)); err != nil {
				t.Errorf("%+v: %v", kind, err)
			}
		}
	}
}

// A frame after a pan or a nudge, of which all is on the graphics card, allocates nothing in
// this program.
func TestFrameAllocatesNothing(t *testing.T) {
	s, planes := picturetest.Patches()
	v := view.New()
	v.Resize(view.Stage{W: 800, H: 500, Ratio: 1})
	v.NewSet(&s)
	p, err := prints.New(&s)
	if err != nil {
		t.Fatal(err)
	}
	scene := Scene{Session: &s, Prints: p, View: v}
	for i := range planes {
		scene.Plates[i] = planes[i].Pyramid(40)
	}
	if err := p.Update(&s, scene.Plates, prints.Looked{}); err != nil {
		t.Fatal(err)
	}
	screen, err := New(false)
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	frame := func() {
		screen.stands, screen.next = screen.frameOf(scene, image.Rect(0, 0, 800, 500)), screen.stands
		drawn += len(screen.stands.panes)
	}
	for _, look := range []string{"beside", "divided", "difference", "reach", "plate"} {
		if err := v.Do(view.TakeLook{ID: look}, view.Subject{State: &s, Residual: &view.Residual{}}); err != nil {
			t.Fatal(err)
		}
		drawn = 0
		frame()
		frame()
		if n := testing.AllocsPerRun(20, func() {
			s.Offsets[0].DX += 0.01
			v.Centre[0] += 0.001
			frame()
		}); n != 0 {
			t.Errorf("%s: %g allocations a frame", look, n)
		}
		if screen.stands.stage = v.Stage; !screen.standing(scene) {
			t.Errorf("%s: a frame that stands is to be drawn again", look)
		}
		if n := testing.AllocsPerRun(20, func() { screen.standing(scene) }); n != 0 {
			t.Errorf("%s: %g allocations to see that a frame stands", look, n)
		}
		s.Offsets[0].DX++
		if screen.standing(scene) && look != "reach" && look != "plate" { // which leave the offsets alone
			t.Errorf("%s: another offset is not to be drawn", look)
		}
		v.Centre[0] += 0.001
		if screen.standing(scene) {
			t.Errorf("%s: another place is not to be drawn", look)
		}
		if drawn < 20 {
			t.Errorf("%s: %d panes were drawn", look, drawn)
		}
	}
}
