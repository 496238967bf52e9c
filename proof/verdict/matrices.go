package verdict

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"threeply/proof/pigment"
	"threeply/proof/place"
	"threeply/proof/session"
)

// MatricesCSV lists, a row for each filter, where register puts its plate (key
// pixel to the plate's pixel, centres at whole numbers), how sure that is
// (0 … 1), and where its layer lies with the offset on the print. Where the local
// register is on, its coefficients follow, in pixels of the key: the plate shows
// at matrix · (x + dx, y + dy) what the key shows at (x, y), with
//
//	dx = Σ local_x · P, dy = Σ local_y · P
//	P = p2(u), u·v, p2(v), p3(u), p2(u)·v, u·p2(v), p3(v)
//	p2(t) = (3t² - 1)/2, p3(t) = (5t³ - 3t)/2
//	u = 2x/(local_w - 1) - 1, v = 2y/(local_h - 1) - 1
//
// Else those columns are empty.
func MatricesCSV(s *session.State) string {
	head := "filter,file,key,a11,a12,a13,a21,a22,a23,confidence,with_offset_a11,with_offset_a12,with_offset_a13,with_offset_a21,with_offset_a22,with_offset_a23"
	head += ",local_w,local_h"
	for _, axis := range []string{"x", "y"} {
		for k := range len(s.Local[0].CX) {
			head += fmt.Sprintf(",local_%s%d", axis, k+1)
		}
	}
	rows := [][]string{strings.Split(head, ",")}
	for f, name := range session.Filters {
		i := s.Assign[f]
		row := []string{name, s.Sources[i].File, s.Key}
		number := func(v float64, digits int) {
			row = append(row, strconv.FormatFloat(v, 'g', digits, 64))
		}
		for _, v := range place.Register(s, i) {
			number(v, 9)
		}
		number(s.Found[i].Confidence, 3)
		for _, v := range place.LayerMatrix(s, pigment.Printer(2-f)) {
			number(v, 9)
		}
		if l := place.Local(s, i); l != nil {
			number(float64(l.W), 9)
			number(float64(l.H), 9)
			for _, v := range slices.Concat(l.CX[:], l.CY[:]) {
				number(v, 9)
			}
		}
		rows = append(rows, append(row, make([]string, len(rows[0])-len(row))...))
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		panic(err) // a Builder takes everything
	}
	return b.String()
}
