package browsertest

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// shot is a picture of the window as it stands now.
func (p *page) shot() *image.RGBA {
	p.t.Helper()
	picture, err := png.Decode(bytes.NewReader(p.shotPNG()))
	if err != nil {
		p.t.Fatal(err)
	}
	return plain(picture)
}

// plain is a picture in the one form that these tests compare.
func plain(picture image.Image) *image.RGBA {
	if p, ok := picture.(*image.RGBA); ok {
		return p
	}
	p := image.NewRGBA(picture.Bounds())
	draw.Draw(p, p.Rect, picture, picture.Bounds().Min, draw.Src)
	return p
}

func (p *page) shotPNG() []byte {
	p.t.Helper()
	fast := true // little compression
	var data []byte
	p.do("a picture of the window", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		got, err := cdp.Call(ctx, target, cdppage.CaptureScreenshot, cdppage.CaptureScreenshotParams{OptimizeForSpeed: &fast})
		data = got.Data
		return err
	}))
	return data
}

// settled waits until the page is at rest and gives the picture of the window.
func (p *page) settled() *image.RGBA {
	p.t.Helper()
	p.rest()
	return p.shot()
}

// leaveShot leaves a picture of the window as it was when the test failed.
func (p *page) leaveShot() {
	ctx, cancel := p.limit()
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Logf("no picture of the failure: %v", err)
		return
	}
	name := filepath.Join("../../.build/failed", strings.ReplaceAll(p.t.Name(), "/", "-")+".png")
	if err := writeFile(name, data); err != nil {
		p.t.Log(err)
		return
	}
	p.t.Logf("a picture of the failure lies in %s", name)
}

// writeFile writes a file and the folder it lies in.
func writeFile(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, data, 0o644)
}

// colours counts the different colours in a part of a picture.
func colours(picture *image.RGBA, part image.Rectangle) int {
	seen := map[color.RGBA]bool{}
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			seen[picture.RGBAAt(x, y)] = true
		}
	}
	return len(seen)
}

// changed is the share, 0 to 1, of the pixels of a part that differ by more than the
// given step (of 255) in some channel.
func changed(a, b *image.RGBA, part image.Rectangle, step int) float64 {
	n := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if differs(a.RGBAAt(x, y), b.RGBAAt(x, y), step) {
				n++
			}
		}
	}
	return float64(n) / float64(max(1, part.Dx()*part.Dy()))
}

func differs(a, b color.RGBA, step int) bool {
	return apart(a.R, b.R) > step || apart(a.G, b.G) > step || apart(a.B, b.B) > step
}

func apart(a, b uint8) int {
	return max(int(a), int(b)) - min(int(a), int(b))
}

func rgba(picture image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA)
}

// shifted is a picture moved by whole pixels: what lay at (x, y) lies at (x + dx, y + dy).
func shifted(picture *image.RGBA, dx, dy int) *image.RGBA {
	out := image.NewRGBA(picture.Rect)
	draw.Draw(out, picture.Rect.Add(image.Pt(dx, dy)), picture, picture.Rect.Min, draw.Src)
	return out
}

// waitChanged waits until more than the given share of a frame looks different from
// before, by more than 2/255, and gives the new picture of the window.
func (p *page) waitChanged(before *image.RGBA, id string, share float64) *image.RGBA {
	p.t.Helper()
	part := p.frameRect(id)
	for end := time.Now().Add(patience); ; {
		after := p.settled()
		got := changed(before, after, part, 2)
		if got > share {
			return after
		}
		if time.Now().After(end) {
			p.t.Fatalf("%.2f %% of the frame %q changed, want more than %.2f %%", 100*got, id, 100*share)
		}
	}
}

// waitSame waits until a frame looks as in an earlier picture, but for the given share.
func (p *page) waitSame(before *image.RGBA, id string, share float64) {
	p.t.Helper()
	part := p.frameRect(id)
	for end := time.Now().Add(patience); ; {
		got := changed(before, p.settled(), part, 2)
		if got <= share {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("%.2f %% of the frame %q still differ, want at most %.2f %%", 100*got, id, 100*share)
		}
	}
}

// leavePicturesAlone has nothing drawn any more, for a test that asks only where things lie: the
// software that stands in for a graphics card takes its time over each large picture.
func (p *page) leavePicturesAlone() {
	p.t.Helper()
	p.run(`for (const name of ["drawElements", "drawArrays"]) WebGL2RenderingContext.prototype[name] = () => { observed.drawn++; }`)
}
