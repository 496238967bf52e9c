package main

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/intake"
	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/proof/session"
)

// waves writes a small plate whose pattern depends on phase.
func waves(t *testing.T, name string, phase float64) string {
	t.Helper()
	img := image.NewGray16(image.Rect(0, 0, 96, 64))
	rnd := rand.New(rand.NewPCG(19, 31)) // tiles alike in all plates, which register finds at once
	var tiles [16][11]float64
	for i := range tiles {
		for j := range tiles[i] {
			tiles[i][j] = 0.25 * rnd.Float64()
		}
	}
	for y := range 64 {
		for x := range 96 {
			v := 0.3 + 0.2*math.Sin(float64(x)/9+phase)*math.Cos(float64(y)/7-phase) + tiles[x/6][y/6]
			img.SetGray16(x, y, color.Gray16{Y: uint16(65535 * v)})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// saved is the session of plates that were dropped as blue, green, red, changed and
// written into a folder, with the names of its scans as red, green, blue.
func saved(t *testing.T, dir string, change func(s *session.State)) (name string, scans []string) {
	t.Helper()
	at := func(name string) string { return filepath.Join(dir, name) }
	scans = []string{waves(t, at("c.png"), 0), waves(t, at("b.png"), 1), waves(t, at("a.png"), 2)}
	var files []plate.File
	for _, name := range []string{scans[2], scans[1], scans[0]} {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, plate.File{Name: filepath.Base(name), Data: scan.Bytes(data)})
	}
	set, err := plate.Open(files, plate.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := intake.Begin(set)
	s.Assign, s.Palette, s.Registered, s.FoundKey = [3]int{2, 1, 0}, "gamboge", "auto", 1
	for i := range s.Found {
		s.Found[i].Confidence = 0.9
	}
	s.Found[2].Matrix = affine.Translate(3, -2) // of the red plate
	s.Offsets[0].DX = 20000
	change(&s)
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("saved.json"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return at("saved.json"), scans
}

// rendered is the proof of a session, its pixels without its words, which hold the time,
// and what is said and warned of.
func rendered(t *testing.T, session string, scans ...string) (pixels []byte, said, warned string, err error) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "proof.png")
	var out, warn bytes.Buffer
	if err = proof(append([]string{"-session", session, "-o", to}, scans...), &out, &warn); err == nil {
		pixels = pixelsOf(t, to)
	}
	return pixels, out.String(), warn.String(), err
}

func pixelsOf(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	all := image.NewNRGBA(img.Bounds())
	draw.Draw(all, all.Rect, img, image.Point{}, draw.Src)
	return all.Pix
}

// A session that the page saved for plates dropped as blue, green, red gives the same
// proof in whatever order its files are named and under whatever names, and refuses
// others.
func TestProofOfASession(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(*session.State) {})
	first, said, warned, err := rendered(t, kept, scans...)
	if err != nil || warned != "" {
		t.Fatalf("%v, warned of %q", err, warned)
	}
	if !strings.Contains(said, "Gamboge") {
		t.Errorf("not by the session: %s", said)
	}
	second, _, warned, err := rendered(t, kept, scans[2], scans[1], scans[0])
	if err != nil || warned != "" || !bytes.Equal(first, second) {
		t.Errorf("the order of the files changes the proof (%v, warned of %q)", err, warned)
	}
	renamed := filepath.Join(dir, "new name.png")
	if err := os.Rename(scans[0], renamed); err != nil {
		t.Fatal(err)
	}
	third, _, warned, err := rendered(t, kept, renamed, scans[1], scans[2])
	if err != nil || warned != "" || !bytes.Equal(first, third) {
		t.Errorf("another name changes the proof (%v, warned of %q)", err, warned)
	}
	other := waves(t, filepath.Join(dir, "d.png"), 3)
	if _, _, _, err := rendered(t, kept, renamed, scans[1], other); err == nil || !strings.Contains(err.Error(), "a.png") || !strings.Contains(err.Error(), "belongs to other plates") {
		t.Errorf("another plate is taken: %v", err)
	}
}

// The register of a session is not taken for plates that were scanned anew since, nor
// for scans that the session does not know the content of: they are registered anew,
// and that is said.
func TestProofOfPlatesScannedAnew(t *testing.T) {
	dir := t.TempDir()
	kept, scans := saved(t, dir, func(*session.State) {})
	asKept, _, _, err := rendered(t, kept, scans...)
	if err != nil {
		t.Fatal(err)
	}
	for i, phase := range []float64{0.3, 1.3, 2.3} {
		waves(t, scans[i], phase)
	}
	anew, said, warned, err := rendered(t, kept, scans...)
	if err != nil || !strings.Contains(warned, "saved.json: the plates were scanned anew since, so its settings are taken") {
		t.Fatalf("%v, warned of %q", err, warned)
	}
	if !strings.Contains(said, "Gamboge") || strings.Contains(said, "\nIn register") {
		t.Errorf("said of plates scanned anew: %s", said)
	}
	if bytes.Equal(asKept, anew) {
		t.Error("the proof is that of the old scans")
	}

	old, scans := saved(t, t.TempDir(), func(s *session.State) {
		for i := range s.Sources {
			s.Sources[i].SHA256 = ""
		}
	})
	_, said, warned, err = rendered(t, old, scans...)
	if err != nil || !strings.Contains(warned, "does not know the content of its scans, so the plates are registered anew") || !strings.Contains(said, "Gamboge") {
		t.Errorf("%v, warned of %q, said: %s", err, warned, said)
	}
	byHand, scans := saved(t, t.TempDir(), func(s *session.State) {
		for i := range s.Sources {
			s.Sources[i].SHA256 = ""
		}
		s.Found[2].ByHand = true
	})
	_, said, warned, err = rendered(t, byHand, scans...)
	if err != nil || !strings.Contains(warned, "lie as it says, by hand or by marks") || !strings.Contains(said, "nobody can say that they are these: register again") {
		t.Errorf("%v, warned of %q, said: %s", err, warned, said)
	}
}

// A session with numbers that nobody can work with is refused, not broken down over.
func TestProofOfADamagedSession(t *testing.T) {
	kept, scans := saved(t, t.TempDir(), func(*session.State) {})
	sound, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	for _, matrix := range []string{"[1e300,0,0,0,1e-300,0]", "[1,0,1e300,0,1,0]", "[1e300,0,0,0,1e300,0]", "[1,0,0,0,0,0]"} {
		var whole map[string]any
		if err := json.Unmarshal(sound, &whole); err != nil {
			t.Fatal(err)
		}
		whole["found"].([]any)[2].(map[string]any)["matrix"] = json.RawMessage(matrix)
		text, err := json.Marshal(whole)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(kept, text, 0o644); err != nil {
			t.Fatal(err)
		}
		if _, _, _, err := rendered(t, kept, scans...); err == nil || !strings.Contains(err.Error(), "saved.json: “found[2].matrix") {
			t.Errorf("%s: %v", matrix, err)
		}
	}
}

func TestWrongUseEndsWith2(t *testing.T) {
	for _, args := range [][]string{{}, {"print"}, {"proof"}, {"register", "-key", "black", "x"}, {"patch", "-palette", "none", "-y", "1", "-m", "1", "-c", "1"}, {"proof", "-layout", "tall-rrr", "x"}, {"proof", "-o", "./x.tif", "x.tif", "y.tif", "z.tif"}} {
		var out, said bytes.Buffer
		if code := run(args, &out, &said); code != 2 || said.Len() == 0 {
			t.Errorf("%q ends with %d and says %q", args, code, said.String())
		}
	}
	var out bytes.Buffer
	if code := run([]string{"help"}, &out, io.Discard); code != 0 || !strings.Contains(out.String(), "register") {
		t.Errorf("help ends with %d", code)
	}
}
