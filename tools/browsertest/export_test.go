package browsertest

import (
	"context"
	"encoding/json"
	"image"
	"image/draw"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"

	"threeply/proof/affine"
	"threeply/proof/picture"
	"threeply/proof/render"
)

// TestSaveProof saves the proof as a user does, with a layer out of register. The file
// has the key plate's size; it shows what the screen shows, pixel by pixel, though the
// one is drawn by the shader and the other by the worker; the grey scale that the demo's
// maker put into the scene darkens from step to step where it put it; and no part of the
// file is another than this machine renders, though one of the workers dies over it.
func TestSaveProof(t *testing.T) {
	p := demo(t)
	p.resize(1024, 700) // enough of the print is seen at 100 %
	folder := p.downloads()
	p.command("nudge", map[string]any{"printer": "cyan", "dxUm": 700.0, "dyUm": -340.0})
	p.command("station", map[string]any{"id": "sheets"})
	p.run(`(() => {
		const post = Worker.prototype.postMessage;
		Worker.prototype.postMessage = function (message, ...more) {
			if (message.turn?.band !== 0) return post.call(this, message, ...more);
			Worker.prototype.postMessage = post;
			this.terminate();
			this.dispatchEvent(new ErrorEvent("error", {message: "no memory"}));
		};
	})()`)
	since := p.now()
	p.waitFor(`[...document.querySelectorAll("#drawer label")].some(l => l.textContent === "the plates’ edges")`)
	p.run(`[...document.querySelectorAll("#drawer label")].find(l => l.textContent === "the plates’ edges").click(); [...document.querySelectorAll("#drawer button")].find(b => b.textContent === "Save the proof").click()`)
	data, err := os.ReadFile(waitFile(t, folder, ".png"))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("longest task while saving the proof: %.0f ms (to reach: 200 ms)", p.longest(since).Duration)
	p.waitFor(`v.messages.some(m => m.text.startsWith("A worker ended"))`)
	p.run(`document.querySelector("#messages button").click()`)
	saved := plain(decodedPNG(t, data))
	state, set := p.nativeSet()
	w, h := state.Frame()
	if saved.Rect.Size() != image.Pt(w, h) {
		t.Fatalf("the saved proof is %v, the key plate %d × %d", saved.Rect.Size(), w, h)
	}

	frame, at := p.onePixelEach("print")
	shown := image.NewRGBA(saved.Rect)
	draw.Draw(shown, frame.Add(at.Sub(frame.Min)), p.picturesAlone(), frame.Min, draw.Src)
	part := frame.Add(at.Sub(frame.Min)).Intersect(saved.Rect)
	if n := colours(shown, part); n < 500 || part.Dx()*part.Dy() < 30_000 {
		t.Fatalf("the screen shows %d colours of the print in %v", n, part)
	}
	if few, far := changed(saved, shown, part, 2), changed(saved, shown, part, 6); few > 0.01 || far > 0 {
		t.Errorf("%.2f %% of the saved proof differ from the screen by more than 2/255, %.4f %% by more than 6", 100*few, 100*far)
	}

	last := 256.0
	for i, box := range greyScale(t) {
		grey := meanGrey(saved, box)
		if grey > last-3 {
			t.Errorf("step %d of the grey scale is %.1f of 255 light, the lighter one before it %.1f", i+1, grey, last)
		}
		last = grey
	}

	printing, err := picture.Prepare(&state)
	if err != nil {
		t.Fatal(err)
	}
	want := plain(picture.Assemble(&state, printing, printing.Curves(&state), set.Density, affine.Identity, 0).Image(render.Print, w, h, nil))
	if share := changed(saved, want, want.Rect, 1); share > 0 {
		t.Errorf("%.4f %% of the saved proof differ from the native one by more than 1/255", 100*share)
	}
}

// onePixelEach enlarges the pictures so that a pixel of the screen is one of the key,
// and gives a frame's place in the window and the key's pixel at its corner.
func (p *page) onePixelEach(id string) (frame image.Rectangle, at image.Point) {
	p.t.Helper()
	p.command("zoom", map[string]any{"percent": 100})
	corner := func() (x, y float64) {
		m := p.keyMatrix(p.session(), p.frameRect(id).Min.Sub(p.stage().Min))
		return m[2], m[5]
	}
	x, y := corner()
	p.command("pan", map[string]any{"dx": x - math.Round(x), "dy": y - math.Round(y)})
	x, y = corner()
	if off := max(math.Abs(x-math.Round(x)), math.Abs(y-math.Round(y))); off > 1e-6 {
		p.t.Fatalf("the screen's pixels lie between the key's, at %g, %g", x, y)
	}
	return p.frameRect(id), image.Pt(int(math.Round(x)), int(math.Round(y)))
}

// picturesAlone is a picture of the window with nothing drawn over the pictures.
func (p *page) picturesAlone() *image.RGBA {
	p.t.Helper()
	p.run(`(() => {
		const sheet = new CSSStyleSheet(); // the page's policy lets no style element in
		sheet.replaceSync("#stage > :not(canvas) { visibility: hidden !important; }");
		document.adoptedStyleSheets = [sheet];
	})()`)
	shown := p.settled()
	p.run(`document.adoptedStyleSheets = []`)
	return shown
}

// greyScale is where the demo's maker put the steps of a grey scale, in pixels of the
// key, lightest first.
func greyScale(t *testing.T) []image.Rectangle {
	t.Helper()
	var truth struct {
		GreyScale []struct{ Box [4]int } `json:"grey_scale"`
	}
	text, err := os.ReadFile(filepath.Join(siteDir, "demo", "truth.json"))
	if err == nil {
		err = json.Unmarshal(text, &truth)
	}
	if err != nil || len(truth.GreyScale) < 10 {
		t.Fatalf("%d steps of a grey scale: %v", len(truth.GreyScale), err)
	}
	var boxes []image.Rectangle
	for _, step := range truth.GreyScale {
		b := step.Box
		boxes = append(boxes, image.Rect(b[0], b[1], b[0]+b[2], b[1]+b[3]))
	}
	return boxes
}

// meanGrey is the mean of all channels over a part of a picture.
func meanGrey(picture *image.RGBA, part image.Rectangle) float64 {
	sum := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			c := picture.RGBAAt(x, y)
			sum += int(c.R) + int(c.G) + int(c.B)
		}
	}
	return float64(sum) / float64(3*part.Dx()*part.Dy())
}

// downloads returns a new folder into which the page's downloads go from now on.
func (p *page) downloads() string {
	p.t.Helper()
	folder := p.t.TempDir()
	p.do("a folder for downloads", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		chrome := chromedp.FromContext(ctx)
		_, err := cdp.Call(ctx, chrome.Browser, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
			Behavior: browser.SetDownloadBehaviorBehaviorAllow, BrowserContextID: chrome.BrowserContextID, DownloadPath: folder,
		})
		return err
	}))
	return folder
}

// waitFile waits until a finished file with the given ending lies in a folder.
func waitFile(t *testing.T, folder, ending string) string {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, entry := range entries {
			if strings.HasSuffix(entry.Name(), ending) {
				return filepath.Join(folder, entry.Name())
			}
		}
	}
	t.Fatalf("no %s file came within %v", ending, patience)
	return ""
}

// filesOf is how many files of an ending lie in a folder.
func filesOf(t *testing.T, folder, ending string) int {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, "*"+ending))
	if err != nil {
		t.Fatal(err)
	}
	return len(found)
}
