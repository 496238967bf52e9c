// Package sheettest writes files as several programs do.
package sheettest

import (
	"testing"

	"threeply/proof/plane"
	"threeply/proof/sheet"
)

// Apart is a file whose strips are drawn each by itself, the last first. planes are those
// that it is drawn from, by source: for each strip they hold only the rows that needs tells
// for it, and in the end all of them again.
func Apart(t testing.TB, s sheet.Strips, planes [3]*plane.Plane, needs func(y0, y1 int) [3][2]int) []byte {
	t.Helper()
	var whole [3][]uint16
	for i, p := range planes {
		whole[i] = p.Pix
		defer func() { p.From, p.Pix = 0, whole[i] }()
	}
	strips, packed := make([][]byte, s.Strips()), make([]sheet.Packed, s.Strips())
	for i := len(strips) - 1; i >= 0; i-- {
		for k, rows := range needs(s.Rows(i)) {
			p := planes[k]
			p.From = rows[0]
			p.Pix = append([]uint16(nil), whole[k][rows[0]*p.W:rows[1]*p.W]...)
		}
		var sum uint32
		var err error
		if strips[i], sum, err = s.Pack(nil, i); err != nil {
			t.Fatal(err)
		}
		packed[i] = sheet.Packed{Size: len(strips[i]), Sum: sum}
	}
	file, after, err := s.Join(packed)
	if err != nil {
		t.Fatal(err)
	}
	for _, strip := range strips {
		file = append(file, strip...)
	}
	return append(file, after...)
}
