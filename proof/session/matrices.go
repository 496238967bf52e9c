package session

import (
	"encoding/csv"
	"strconv"
	"strings"

	"threeply/proof/pigment"
)

// MatricesCSV lists, a row for each filter, where register puts its plate (key
// pixel to the plate's pixel, centres at whole numbers), how sure that is
// (0 … 1), and where its layer lies with the offset on the print.
func (s *State) MatricesCSV() string {
	head := "filter,file,key,a11,a12,a13,a21,a22,a23,confidence,with_offset_a11,with_offset_a12,with_offset_a13,with_offset_a21,with_offset_a22,with_offset_a23"
	rows := [][]string{strings.Split(head, ",")}
	for f, name := range Filters {
		i := s.Assign[f]
		row := []string{name, s.Sources[i].File, s.Key}
		number := func(v float64, digits int) {
			row = append(row, strconv.FormatFloat(v, 'g', digits, 64))
		}
		for _, v := range s.Register(i) {
			number(v, 9)
		}
		number(s.Found[i].Confidence, 3)
		for _, v := range s.LayerMatrix(pigment.Printer(2 - f)) {
			number(v, 9)
		}
		rows = append(rows, row)
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		panic(err) // a Builder takes everything
	}
	return b.String()
}
