package verdict

import (
	"fmt"
	"slices"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/place"
	"threeply/proof/session"
	"threeply/proof/table"
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
// Else those columns are empty. The last columns are the label of the set, the same in
// each row but for what is the plate's own.
func MatricesCSV(s *session.State, made label.Made) string {
	var t table.Table
	head := strings.Fields("filter file key a11 a12 a13 a21 a22 a23 confidence with_offset_a11 with_offset_a12 with_offset_a13 with_offset_a21 with_offset_a22 with_offset_a23 local_w local_h")
	for _, axis := range []string{"x", "y"} {
		for k := range len(s.Local[0].CX) {
			head = append(head, fmt.Sprintf("local_%s%d", axis, k+1))
		}
	}
	labelled := len(head)
	set := label.Of(s, made, "")
	head = append(head, "sha256", "letter", "condition")
	for _, p := range set.Object() {
		head = append(head, p.Name)
	}
	t.Head(append(head, "made_by", "made_at")...)
	for _, f := range filter.All {
		name := f.String()
		i := s.Assign[f]
		row := []table.Cell{table.Text(name), table.Text(s.Sources[i].File), table.Text(s.Key)}
		numbers := func(digits int, all ...float64) {
			for _, v := range all {
				row = append(row, table.Number(v, digits))
			}
		}
		register, layer := place.Register(s, i), place.LayerMatrix(s, f.Printer())
		numbers(9, register[:]...)
		numbers(3, s.Found[i].Confidence)
		numbers(9, layer[:]...)
		if l := place.Local(s, i); l != nil {
			numbers(9, float64(l.W), float64(l.H))
			numbers(9, l.CX[:]...)
			numbers(9, l.CY[:]...)
		}
		for len(row) < labelled {
			row = append(row, table.Cell{})
		}
		own := set.Plates[f]
		row = append(row, table.Text(own.SHA256), table.Text(own.Letter), table.Text(own.Condition))
		for _, p := range slices.Concat(set.Object(), set.Making()) {
			row = append(row, table.Text(p.Says))
		}
		t.Add(row...)
	}
	return t.CSV()
}
