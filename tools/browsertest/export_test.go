package browsertest

import (
	"context"
	"image"
	"image/png"
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

// TestSaveProof saves the proof as a user does: the file has the key plate's size, and
// its pixels are those that the Go renderer gives on this machine.
func TestSaveProof(t *testing.T) {
	p := open(t, 1400, 860)
	p.waitFor(`v.registered === "auto" && v.idle`)
	folder := p.downloads()
	p.command("station", map[string]any{"id": "sheets"})
	since := p.now()
	p.run(`[...document.querySelectorAll("#panels button")].find(b => b.textContent === "Save the proof").click()`)
	name := waitFile(t, folder, ".png")
	longest := p.longest(since)
	t.Logf("longest task while saving the proof: %.0f ms (to reach: 200 ms)", longest.Duration)

	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	saved, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	state, set := p.nativeSet()
	w, h := state.Frame()
	if saved.Bounds().Size() != image.Pt(w, h) {
		t.Fatalf("the saved proof is %v, the key plate %d × %d", saved.Bounds().Size(), w, h)
	}
	printing, err := picture.Prepare(&state)
	if err != nil {
		t.Fatal(err)
	}
	want := picture.Assemble(&state, printing, printing.Curves(&state), set.Density, affine.Identity, 0).Image(render.Print, w, h, nil)
	if share := changed(saved, want, want.Bounds(), 1); share > 0 {
		t.Errorf("%.4f %% of the saved proof differ from the native one by more than 1/255", 100*share)
	}
}

// downloads returns a new folder into which the page's downloads go from now on.
func (p *page) downloads() string {
	p.t.Helper()
	folder := p.t.TempDir()
	p.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
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
