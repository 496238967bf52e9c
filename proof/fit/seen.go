package fit

import (
	"fmt"
	"strconv"
	"strings"

	"threeply/proof/pigment"
)

// seenHead is the first row of a table of what was seen.
var seenHead = []string{"LAYER", "HELD", "LAST", "MATCH", "DENSITY"}

// greyRows are the rows of the blocks of greys, the lightest first.
var greyRows = []string{"light", "neutral", "deep"}

// SeenTable is a table to write down what the eye tells of a sheet; see pigment.Seen. The
// neutral ones stand under HELD and the columns after it. Its first line is a remark that begins
// with #, which SeenAmong passes over; "" for none.
func SeenTable(remark string) []byte {
	out := strings.Join(seenHead, ",") + "\n"
	if remark != "" {
		out = "\ufeff" + remark + "\n" + out // the mark tells spreadsheets that it is UTF-8
	}
	for _, row := range append(printerNames(), greyRows...) {
		out += row + ",,,,\n"
	}
	return []byte(out)
}

func printerNames() (out []string) {
	for _, p := range pigment.Printers() {
		out = append(out, p.String())
	}
	return out
}

// SeenAmong is what was seen by eye, where that is what the files hold; nil where they hold
// readings. An error names the file, the line, the reason and what to do.
func SeenAmong(files []File) (*pigment.Seen, error) {
	var out *pigment.Seen
	for i, f := range files {
		rows := rowsOf(string(f.Text))
		if len(rows) == 0 || !strings.EqualFold(rows[0].cells[0], seenHead[0]) {
			if out != nil {
				return nil, fmt.Errorf("%s is no table of what was seen, as %s is; fit one way of measuring at a time", f.Name, files[i-1].Name)
			}
			continue
		}
		if i > 0 {
			return nil, fmt.Errorf("%s holds what was seen by eye; give it alone, for one sheet and one way of measuring at a time", f.Name)
		}
		seen, err := readSeen(rows)
		if err != nil {
			return nil, fmt.Errorf("%s, %w", f.Name, err)
		}
		out = &seen
	}
	return out, nil
}

// seenRow is one row of such a table.
type seenRow struct {
	line  int
	cells []string
}

// rowsOf parts a text into rows and cells, by tabs, semicolons or commas. Remarks are left out, those
// too that a spreadsheet has put into quotes.
func rowsOf(text string) (out []seenRow) {
	text = strings.NewReplacer("\ufeff", "", "\r\n", "\n", "\r", "\n").Replace(text)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(strings.TrimLeft(line, ` "`), "#") {
			lines[i] = ""
		}
	}
	text = strings.Join(lines, "\n")
	separator := ","
	for _, s := range []string{"\t", ";"} {
		if strings.Contains(text, s) {
			separator = s
			break
		}
	}
	for i, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue
		}
		row := seenRow{line: i + 1}
		for _, cell := range strings.Split(line, separator) {
			row.cells = append(row.cells, strings.Trim(strings.TrimSpace(cell), `"`))
		}
		out = append(out, row)
	}
	return out
}

func readSeen(rows []seenRow) (seen pigment.Seen, err error) {
	for i, name := range seenHead {
		if i >= len(rows[0].cells) || !strings.EqualFold(rows[0].cells[i], name) {
			return seen, fmt.Errorf("line %d: the columns must be %s", rows[0].line, strings.Join(seenHead, ", "))
		}
	}
	layers := map[string]*pigment.SeenLayer{"yellow": &seen.Yellow, "magenta": &seen.Magenta, "cyan": &seen.Cyan}
	greys := map[string]*string{"light": &seen.Light, "neutral": &seen.Neutral, "deep": &seen.Deep}
	told := map[string]bool{}
	for _, r := range rows[1:] {
		name := strings.ToLower(r.cells[0])
		l, grey := layers[name], greys[name]
		switch {
		case told[name]:
			return seen, fmt.Errorf("line %d: %s stands twice; leave one out", r.line, name)
		case l == nil && grey == nil:
			return seen, fmt.Errorf("line %d: “%.20s” is no layer; the rows are yellow, magenta, cyan, light, neutral and deep", r.line, r.cells[0])
		}
		told[name] = true
		cells := make([]string, len(seenHead))
		for i, cell := range r.cells {
			switch {
			case i < len(cells):
				cells[i] = strings.ToUpper(cell)
			case cell != "":
				return seen, fmt.Errorf("line %d: more than %d cells; write decimals with points", r.line, len(cells))
			}
		}
		if grey != nil {
			*grey = strings.Join(strings.Fields(strings.Join(cells[1:], " ")), " ")
			continue
		}
		l.Held, l.Last, l.Match = cells[1], cells[2], cells[3]
		if cells[4] == "" {
			continue
		}
		if l.Density, err = strconv.ParseFloat(cells[4], 64); err != nil {
			return seen, fmt.Errorf("line %d: “%.20s” is no density; write it with a point, such as 0.75", r.line, cells[4])
		}
	}
	return seen, nil
}
