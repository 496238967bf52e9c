package icc

import (
	"encoding/binary"
	"fmt"
	"testing"
	"time"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

var noon = time.Date(2024, 6, 1, 12, 0, 0, 0, time.UTC)

func made(t testing.TB, id, light string, limit float64) (stack.Recipe, spectrum.Light, []byte) {
	t.Helper()
	p, ok := pigment.PaletteByID(id)
	l, found := spectrum.LightByID(light)
	if !ok || !found {
		t.Fatalf("no palette %s or light %s", id, light)
	}
	r := stack.DefaultRecipe(p)
	key := fmt.Sprint(id, light, limit)
	if profiles[key] == nil {
		profiles[key] = Output(r, l, limit, p.Name+" — "+l.Name, "a tool 1.2", noon, nil)
	}
	return r, l, profiles[key]
}

// profiles keeps what was made, since each takes a while.
var profiles = map[string][]byte{}

// The layout of ICC.1:2001-04, sections 6.1 to 6.3: what an output profile must
// hold, and that every tag lies within the file on a multiple of four.
func TestLayout(t *testing.T) {
	_, _, b := made(t, "arylide", "D50", 1)
	big := binary.BigEndian
	if int(big.Uint32(b)) != len(b) || string(b[12:24]) != "prtrCMY Lab " || string(b[36:40]) != "acsp" || b[8] != 2 {
		t.Fatalf("header % x", b[:40])
	}
	// The illuminant of the connection space is D50 as .9642, 1, .8249 in signed
	// 15.16 fixed point (6.1.13 and annex A.1).
	if white := [3]uint32{big.Uint32(b[68:]), big.Uint32(b[72:]), big.Uint32(b[76:])}; white != [3]uint32{0xF6D6, 0x10000, 0xD32D} {
		t.Errorf("the illuminant is %x", white)
	}
	want := map[string]string{
		"desc": "desc", "cprt": "text", "wtpt": "XYZ ", "A2B0": "mft2", "A2B1": "mft2", "A2B2": "mft2",
		"B2A0": "mft2", "B2A1": "mft2", "B2A2": "mft2", "gamt": "mft2",
	}
	n := int(big.Uint32(b[headerSize:]))
	for i := range n {
		e := b[headerSize+4+entrySize*i:]
		at, size := int(big.Uint32(e[4:])), int(big.Uint32(e[8:]))
		if at%4 != 0 || at < headerSize+4+entrySize*n || at+size > len(b) {
			t.Fatalf("tag %s at %d of size %d in %d", e[:4], at, size, len(b))
		}
		if kind := want[string(e[:4])]; kind == "" || string(b[at:at+4]) != kind {
			t.Errorf("tag %s is of type %s, want %s", e[:4], b[at:at+4], kind)
		}
		delete(want, string(e[:4]))
	}
	if len(want) > 0 {
		t.Errorf("missing %v", want)
	}
}

func TestSameRecipeSameBytes(t *testing.T) {
	r, light, a := made(t, "arylide", "D50", 1)
	last, told := 0.0, 0
	progress := func(share float64) {
		if share < last || share > 1 {
			t.Errorf("%g follows %g", share, last)
		}
		last, told = share, told+1
	}
	if b := Output(r, light, 1, r.Palette.Name+" — "+light.Name, "a tool 1.2", noon, progress); string(a) != string(b) {
		t.Error("two profiles of one recipe differ")
	}
	if last != 1 || told < 20 {
		t.Errorf("told of %d steps, the last %g", told, last)
	}
}

func BenchmarkOutput(b *testing.B) {
	p, _ := pigment.PaletteByID("earth")
	r, light := stack.DefaultRecipe(p), spectrum.Lights()[0]
	for b.Loop() {
		Output(r, light, 1, "earth", "a tool 1.2", noon, nil)
	}
}
