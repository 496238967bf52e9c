package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/registration"
	"threeply/proof/render"
	"threeply/proof/scan"
	"threeply/proof/session"
	"threeply/proof/sheet"
	"threeply/proof/spectrum"
	"threeply/proof/tone"
)

// The benchmarks here go the whole way of a set of plates, with plates of 6, 24 and 100
// megapixels: "wayOf" runs each in a process of its own, so that its peak of memory is its own.

// BenchmarkOpen reads three plates of 16 bits, packed by Deflate, which lie in memory: codes,
// checksums, densities, what each plate is.
func BenchmarkOpen(b *testing.B) {
	bySize(b, func(w, h int) func() {
		var files []plate.File
		for i, at := range drawnAt(w, h) {
			var packed bytes.Buffer
			t := sheet.TIFF{W: w, H: h, Samples: 1, PPI: 2400, Row: func(y int, row []uint16) {
				grain := grainOf(i, y)
				for x := range row {
					row[x] = codeOf(math.Pow(10, -at(x, y)) + grain(0.004))
				}
			}}
			if err := t.Write(&packed); err != nil {
				b.Fatal(err)
			}
			files = append(files, plate.File{Name: filter.Filter(i).String() + ".tif", Data: scan.Bytes(packed.Bytes())})
		}
		return func() {
			if _, err := plate.Open(files, plate.Options{}, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkRegister registers three plates, proposes a key and finds their levels.
func BenchmarkRegister(b *testing.B) {
	bySize(b, func(w, h int) func() {
		s, planes := laid(w, h)
		return func() {
			found, err := registration.Register(context.Background(), &s, planes, nil)
			if err != nil {
				b.Fatal(err)
			}
			for i, want := range mapsOf(w, h) {
				x, y := found.Found[i].Matrix.Apply(0, 0)
				u, v := want.Apply(0, 0)
				if off := math.Hypot(x-u, y-v); off > 1 {
					b.Fatalf("plate %d is registered %.1f pixels off", i, off)
				}
			}
		}
	})
}

// BenchmarkProof renders the likely print at full size and writes it as a PNG.
func BenchmarkProof(b *testing.B) {
	bySize(b, func(w, h int) func() {
		s, planes := laid(w, h)
		return func() {
			p, err := export.NewProof(&s, planes, render.Print, spectrum.SRGB, label.Now())
			if err != nil {
				b.Fatal(err)
			}
			if err := p.WritePNG(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// bySize makes work ready for each size and measures it, with the most memory that the process
// takes meanwhile, what the work is made of included.
func bySize(b *testing.B, ready func(w, h int) func()) {
	if os.Getenv(alone) == "" {
		b.Skip("SKIPPED: go run ./tools/bench runs it, each size in a process of its own")
	}
	if runtime.GOARCH == "wasm" {
		debug.SetGCPercent(25) // as in wasm/worker
	}
	for _, megapixels := range sizes {
		b.Run(sizeName(megapixels), func(b *testing.B) {
			h := int(math.Sqrt(float64(megapixels) * 1e6 / 1.5))
			work := ready(3*h/2, h)
			debug.FreeOSMemory()
			os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // the peak so far is forgotten, proc(5); elsewhere it is kept
			for b.Loop() {
				work()
			}
			b.ReportMetric(peak(), peakUnit)
		})
	}
}

// peak is the most memory that this process has taken, in MB: as Linux counts it, or what
// WebAssembly has, which never gives any back.
func peak() float64 {
	if status, err := os.ReadFile("/proc/self/status"); err == nil && runtime.GOARCH != "wasm" {
		if found := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(status); found != nil {
			kB, _ := strconv.ParseFloat(string(found[1]), 64) // digits only
			return kB * 1024 / 1e6
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.Sys) / 1e6
}

// laid are three plates as they lie once they are opened and registered.
func laid(w, h int) (session.State, [3]*plane.Plane) {
	s := session.New()
	s.Registered, s.FoundKey = "auto", 1
	var planes [3]*plane.Plane
	for i, at := range drawnAt(w, h) {
		planes[i] = plane.New(w, h)
		for y := range h {
			grain := grainOf(i, y)
			for x, row := 0, planes[i].Row(y); x < w; x++ {
				row[x] = codeOf((at(x, y) + grain(0.02)) / 4)
			}
		}
		s.Sources[i] = session.Source{File: filter.Filter(i).String() + ".tif", W: w, H: h, Bits: 16, PPI: 2400, Area: [4]int{0, 0, w, h},
			Film: tone.Film{Negative: true, White: 1.7, Black: 0.3, Gamma: 0.7}}
		s.Found[i] = session.Found{Matrix: mapsOf(w, h)[i], Confidence: 1}
	}
	return s, planes
}

// mapsOf says where the plates lie: a little beside the key, the green one, and turned.
func mapsOf(w, h int) [3]affine.Matrix {
	about := func(p affine.Parts) affine.Matrix { return affine.Compose(p, float64(w)/2, float64(h)/2) }
	return [3]affine.Matrix{
		about(affine.Parts{DX: 11.3, DY: -7.6, Turn: 0.2, StretchX: 1.002, StretchY: 1.001}),
		affine.Identity,
		about(affine.Parts{DX: -5.4, DY: 3.2, Turn: -0.1, StretchX: 0.999, StretchY: 0.999}),
	}
}

// drawnAt gives the density of each plate at its pixels: of an invented scene of soft discs,
// each of a colour of its own, drawn once and enlarged.
func drawnAt(w, h int) (at [3]func(x, y int) float64) {
	const sceneW, sceneH, discs = 1200, 800, 900
	random := rand.New(rand.NewPCG(14, 3))
	var scene [3]*plane.Plane
	for i := range scene {
		scene[i] = plane.New(sceneW, sceneH)
		for k := range scene[i].Pix {
			scene[i].Pix[k] = codeOf(1. / 4)
		}
	}
	for range discs {
		cx, cy, r := random.IntN(sceneW), random.IntN(sceneH), 6+random.IntN(40)
		grey := 0.4 + 1.2*random.Float64()
		for i := range scene {
			code := codeOf((grey + 0.3*(random.Float64()-0.5)) / 4)
			for y := max(cy-r, 0); y < min(cy+r, sceneH); y++ {
				half := int(math.Sqrt(float64(r*r - (y-cy)*(y-cy))))
				for x := max(cx-half, 0); x < min(cx+half, sceneW); x++ {
					scene[i].Pix[y*sceneW+x] = code
				}
			}
		}
	}
	for i, m := range mapsOf(w, h) {
		inverse, ok := m.Inverse()
		if !ok {
			panic("a plate that lies flat has an inverse")
		}
		at[i] = func(x, y int) float64 {
			u, v := inverse.Apply(float64(x), float64(y))
			return 4 * scene[i].Bilinear(u*(sceneW-1)/float64(w), v*(sceneH-1)/float64(h)) / 65535
		}
	}
	return at
}

// grainOf gives the grain of a row of a plate, one pixel after the other, within ± most.
func grainOf(plate, y int) func(most float64) float64 {
	state := uint32(plate*1_000_003 + y*7919)
	return func(most float64) float64 {
		state = state*1664525 + 1013904223
		return most * float64(int32(state)) / (1 << 31)
	}
}

func codeOf(share float64) uint16 { return uint16(min(max(65535*share+0.5, 0), 65535)) }

// The names of the benchmarks are those that wayOf asks for.
func TestSizeName(t *testing.T) {
	for _, name := range way {
		if size, ok := sizeOf(fmt.Sprintf("%s/%s", name, sizeName(24))); !ok || size != 24 {
			t.Errorf("%s: %d, %v", name, size, ok)
		}
	}
	if _, ok := sizeOf("At/tall-bgr"); ok {
		t.Error("another benchmark is taken for one of a size")
	}
}
