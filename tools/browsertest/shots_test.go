package browsertest

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestShots leaves a picture of every station, at three sizes of the window, to be
// looked at by a person; the last is 1920 × 1080 at a zoom of 200 %. It runs where THREEPLY_SHOTS names a folder.
func TestShots(t *testing.T) {
	folder := os.Getenv("THREEPLY_SHOTS")
	if folder == "" {
		t.Skip("SKIPPED: screenshots are taken by `make shots` (THREEPLY_SHOTS is not set)")
	}
	if !filepath.IsAbs(folder) {
		folder = filepath.Join("../..", folder)
	}
	p := open(t, 1400, 860)
	p.waitRegistered()
	for _, size := range [][2]int64{{1400, 860}, {1920, 1080}, {960, 540}} {
		p.resize(size[0], size[1])
		for _, station := range []string{"plates", "register", "tissues", "proof", "review", "sheets", "points"} {
			p.command("station", map[string]any{"id": station})
			p.rest()
			name := filepath.Join(folder, fmt.Sprintf("%s-%dx%d.png", station, size[0], size[1]))
			if err := writeFile(name, p.shotPNG()); err != nil {
				t.Fatal(err)
			}
		}
	}
}
