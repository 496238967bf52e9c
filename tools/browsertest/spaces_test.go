package browsertest

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"threeply/proof/spectrum"
)

// TestSaveProofInSpaces saves the proof in both spaces and forms as a user does. Each
// file says its space, its resolution and what it rests on, and where a colour lies
// within sRGB all files show the same.
func TestSaveProofInSpaces(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "sheets"})
	p.waitFor(`document.querySelector("#panel-sheets input[value=p3]") !== null`)
	save := func(form, space, ending string) ([]byte, string) {
		t.Helper()
		folder := p.downloads()
		p.run(`document.querySelector("#panel-sheets input[value=` + form + `]").click(); document.querySelector("#panel-sheets input[value=` + space + `]").click()`)
		p.run(`[...document.querySelectorAll("#drawer label")].find(l => l.textContent === "the plates’ edges").click(); [...document.querySelectorAll("#drawer button")].find(b => b.textContent === "Save the proof").click()`)
		name := waitFile(t, folder, ending)
		p.waitFor(`v.idle`)
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return data, name
	}
	narrow, _ := save("png", "srgb", ".png")
	wide, name := save("png", "p3", ".png")
	if !strings.Contains(name, "display-p3") {
		t.Errorf("the file in Display P3 is called %s", name)
	}
	state, _ := p.nativeSet()
	w, h := state.Frame()
	for space, file := range map[string][]byte{"sRGB": narrow, "Display P3": wide} {
		chunks := pngChunks(t, file)
		if !bytes.HasPrefix(chunks["iCCP"], []byte(space+"\x00")) {
			t.Errorf("%s: the profile is called %.20q", space, chunks["iCCP"])
		}
		want := float64(w) / (state.PrintWidth / 1000)
		if got := binary.BigEndian.Uint32(chunks["pHYs"]); math.Abs(float64(got)-want) > 0.51 || chunks["pHYs"][8] != 1 {
			t.Errorf("%s: %d pixels a metre, want %.1f", space, got, want)
		}
		if text := string(chunks["iTXt"]); !strings.Contains(text, "Estimate from published") || strings.Contains(text, "NOT IN REGISTER") {
			t.Errorf("%s: it says %q", space, text)
		}
	}
	sixteen, _ := save("tiff", "p3", ".tif")
	fine, err := tiff.Decode(bytes.NewReader(sixteen))
	if err != nil {
		t.Fatal(err)
	}
	a, b := decodedPNG(t, narrow), decodedPNG(t, wide)
	if a.Bounds() != image.Rect(0, 0, w, h) || b.Bounds() != a.Bounds() || fine.Bounds() != a.Bounds() {
		t.Fatalf("the pictures are %v, %v and %v, the key plate %d × %d", a.Bounds(), b.Bounds(), fine.Bounds(), w, h)
	}
	toXYZ, fromXYZ := spectrum.DisplayP3.ToXYZ(), spectrum.SRGB.FromXYZ(spectrum.DisplayWhite)
	// Close to the edge of sRGB its table's own interpolation is up to ΔE00 0.5 off,
	// many codes of a channel that is next to nothing; eight bits add as much in the
	// darks.
	const within = 72
	off, differ, seen, worst := 0, 0, 0, 0.0
	for i := 0; i < w*h; i += 7 {
		x, y := i%w, i/w
		c, d := rgba(a, x, y), rgba(b, x, y)
		codes := [3]uint8{c.R, c.G, c.B}
		if min(c.R, c.G, c.B) == 0 || max(c.R, c.G, c.B) == 255 {
			continue // perhaps beyond sRGB
		}
		seen++
		if c != d {
			differ++
		}
		var linear [3]float64
		r, g, bl, _ := fine.At(x, y).RGBA() // 16 bits: in dark colours a step of the wide space is several of sRGB
		for ch, v := range [3]uint32{r, g, bl} {
			linear[ch] = spectrum.DecodeSRGB(float64(v) / 65535)
			// The PNG is computed in whole numbers: half a code, and what render.Image adds.
			if eight := [3]uint8{d.R, d.G, d.B}[ch]; math.Abs(float64(v)/257-float64(eight)) > 0.75 {
				t.Fatalf("at %d, %d channel %d of the TIFF is %d, of the PNG %d", x, y, ch, v, eight)
			}
		}
		back := spectrum.Transform(fromXYZ, spectrum.Transform(toXYZ, linear))
		var shown [3]float64
		apart := 0.0
		for ch, v := range back {
			shown[ch] = spectrum.DecodeSRGB(float64(codes[ch]) / 255)
			apart = max(apart, math.Abs(255*spectrum.EncodeSRGB(v)-float64(codes[ch])))
		}
		if min(c.R, c.G, c.B) < within { // close to the edge, where sRGB draws colours in that it does not hold
			continue
		}
		if apart > 2 {
			off++
		}
		worst = max(worst, spectrum.DeltaE00(spectrum.SRGBLab(shown), spectrum.SRGBLab(back)))
	}
	t.Logf("%d of %d colours well within sRGB part by more than 2/255, at most by ΔE00 %.2f", off, seen, worst)
	if off > seen/10000 || worst > 1.5 || differ < seen/4 {
		t.Errorf("%d of the colours well within sRGB part by more than 2/255, the worst by ΔE00 %.2f; %d of %d have other codes", off, worst, differ, seen)
	}
}

// TestUnsureProofSaysSo saves a proof of plates that no one has registered.
func TestUnsureProofSaysSo(t *testing.T) {
	p := demo(t)
	p.run(`(() => {
		const s = JSON.parse(threeply.sessionText());
		s.registered = "none";
		s.found_key = -1;
		threeply.desk(JSON.stringify({ do: "openSession", name: "a session", text: JSON.stringify(s) }));
	})()`)
	p.waitFor(`v.registered === "none"`)
	p.command("station", map[string]any{"id": "sheets"})
	folder := p.downloads()
	p.run(`document.querySelector("#panel-sheets input[value=png]").click(); document.querySelector("#panel-sheets input[value=srgb]").click()`)
	p.run(`[...document.querySelectorAll("#drawer label")].find(l => l.textContent === "the plates’ edges").click(); [...document.querySelectorAll("#drawer button")].find(b => b.textContent === "Save the proof").click()`)
	data, err := os.ReadFile(waitFile(t, folder, ".png"))
	if err != nil {
		t.Fatal(err)
	}
	if text := string(pngChunks(t, data)["iTXt"]); !strings.Contains(text, "NOT IN REGISTER") {
		t.Errorf("the file says %q", text)
	}
	p.waitFor(`v.messages.some(m => m.kind === "note" && m.text.includes("NOT IN REGISTER"))`)
}

func decodedPNG(t *testing.T, file []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// pngChunks are the data of a file's chunks by their kind (PNG, third edition, W3C
// 2025, section 5.3).
func pngChunks(t *testing.T, file []byte) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for at := 8; at+12 <= len(file); {
		n := int(binary.BigEndian.Uint32(file[at:]))
		out[string(file[at+4:at+8])] = file[at+8 : at+8+n]
		at += 12 + n
	}
	return out
}
