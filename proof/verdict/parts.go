package verdict

import "strings"

// The thirds of a picture each way, by name.
var (
	rows    = [3]string{"upper", "middle", "lower"}
	columns = [3]string{"left", "middle", "right"}
)

// partName names a ninth of the picture.
func partName(row, column int) string {
	switch {
	case row == 1 && column == 1:
		return "middle"
	case row == 1:
		return columns[column] + " side"
	case column == 1:
		return rows[row] + " middle"
	}
	return rows[row] + " " + columns[column]
}

// partAt names the part of the picture that a place of the key lies in.
func (v *Scan) partAt(x, y float64) string {
	third := func(at float64, from, to int) int {
		return min(max(int(3*(at-float64(from))/max(float64(to-from), 1)), 0), 2)
	}
	return partName(third(y, v.Area[1], v.Area[3]), third(x, v.Area[0], v.Area[2]))
}

// missing lists the parts of the picture of which less than a fifth was measured, as “in the
// upper third”: whole thirds where they are, else ninths.
func (v *Scan) missing() []string {
	const hardly = 0.2
	var all, has [3][3]int
	for c, cell := range v.Cells {
		row, column := c/v.Across*3/v.Down, c%v.Across*3/v.Across
		all[row][column]++
		if cell.Measured {
			has[row][column]++
		}
	}
	var empty [3][3]bool
	n := 0
	for row := range 3 {
		for column := range 3 {
			if float64(has[row][column]) < hardly*float64(all[row][column]) {
				empty[row][column] = true
				n++
			}
		}
	}
	if n == 9 {
		return []string{"in the whole picture"}
	}
	var out []string
	named := [3][3]bool{}
	for k := range 3 {
		if empty[k] == [3]bool{true, true, true} {
			out = append(out, "in the "+rows[k]+" third")
			named[k] = empty[k]
		}
		if empty[0][k] && empty[1][k] && empty[2][k] {
			out = append(out, "in the "+columns[k]+" third")
			for row := range 3 {
				named[row][k] = true
			}
		}
	}
	for row := range 3 {
		for column := range 3 {
			if empty[row][column] && !named[row][column] {
				in := "in the "
				if row == 1 && column != 1 {
					in = "on the "
				}
				out = append(out, in+partName(row, column))
			}
		}
	}
	return out
}

// notMeasured says where hardly anything was measured, "" where there is no such part.
func (v *Scan) notMeasured() string {
	if len(v.Missing) == 0 {
		return ""
	}
	return "Nothing was measured " + listed(v.Missing) + "."
}

// listed joins names: “a”, “a and b”, “a, b and c”.
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
