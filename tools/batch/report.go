package batch

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"threeply/proof/table"
)

// reasons are Failed to Fine in a word.
var reasons = [...]string{"failed", "unsure", "out of register", "clipped", "light unknown", "remark", "fine"}

var reportHeads = []string{
	"first look at", "degree", "set", "look", "verdict", "stars", "p95_px", "largest_px", "coverage", "confidence", "clipped", "light_apart_stops",
	"title", "number", "sha256", "folder", "small", "tool",
}

// between parts values that stand in one cell.
const between = " | "

// Report writes the table of all sets, in the order of Urgent.
func Report(out io.Writer, all *Gathered) error {
	var t table.Table
	t.Head(reportHeads...)
	to := bufio.NewWriter(out)
	to.WriteString(t.CSV())
	number := func(v *float64) table.Cell {
		if v == nil {
			return table.Cell{}
		}
		return table.Number(*v, 12)
	}
	for f, err := range all.All() {
		if err != nil {
			return err
		}
		t = table.Table{} // row by row, for there may be a hundred thousand
		t.Add(table.Text(reasons[f.Why]), table.Number(f.Degree, 12), table.Text(f.Set), table.Text(strings.Join(f.Look, between)), table.Text(f.Verdict),
			table.Number(float64(f.Stars), 1), number(f.P95), number(f.Largest), number(f.Coverage), number(f.Confidence), number(f.Clipped), number(f.Apart),
			table.Text(f.Title), table.Text(f.Number), table.Text(strings.Join(f.SHA256, between)), table.Text(f.Folder), table.Text(strings.Join(f.Small, between)), table.Text(f.Tool))
		to.WriteString(strings.TrimPrefix(t.CSV(), table.ByteOrderMark))
	}
	return to.Flush()
}

// ReadReport reads a report back. name is its file's.
func ReadReport(name string, text []byte) ([]Figures, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte(table.ByteOrderMark))))
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w; give reports that a batch has written", name, err)
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != strings.Join(reportHeads, ",") {
		return nil, fmt.Errorf("%s: it is no report of a batch by this version", name)
	}
	var out []Figures
	for i, row := range rows[1:] {
		for k := range row {
			row[k] = table.Said(row[k])
		}
		f := Figures{Why: -1, Set: row[2], Look: parted(row[3]), Verdict: row[4], Title: row[12], Number: row[13], SHA256: parted(row[14]), Folder: row[15], Small: parted(row[16]), Tool: row[17]}
		for why, reason := range reasons {
			if row[0] == reason {
				f.Why = why
			}
		}
		fault := f.Why < 0
		number := func(text string) *float64 {
			if text == "" {
				return nil
			}
			v, err := strconv.ParseFloat(text, 64)
			fault = fault || err != nil
			return &v
		}
		if v := number(row[1]); v != nil {
			f.Degree = *v
		}
		if v := number(row[5]); v != nil {
			f.Stars = int(*v)
		}
		f.P95, f.Largest, f.Coverage, f.Confidence, f.Clipped, f.Apart = number(row[6]), number(row[7]), number(row[8]), number(row[9]), number(row[10]), number(row[11])
		if fault {
			return nil, fmt.Errorf("%s: row %d is damaged", name, i+2)
		}
		out = append(out, f)
	}
	return out, nil
}

// Missing are the shards that a list of reports lacks, by the names that a batch gives them; ""
// where none is missing.
func Missing(reports []string) string {
	given := map[int]map[int]bool{} // parts, by how many there are
	for _, name := range reports {
		var s Shard
		if _, err := fmt.Sscanf(filepath.Base(name), "report-%d-of-%d.csv", &s.Part, &s.Of); err == nil && s.Report() == filepath.Base(name) {
			if given[s.Of] == nil {
				given[s.Of] = map[int]bool{}
			}
			given[s.Of][s.Part] = true
		}
	}
	var says []string
	for _, of := range slices.Sorted(maps.Keys(given)) {
		var missing []string
		for i := range of {
			if !given[of][i+1] && len(missing) < mostMissing {
				missing = append(missing, fmt.Sprintf("%d/%d", i+1, of))
			}
		}
		if more := of - len(given[of]) - len(missing); more > 0 {
			missing = append(missing, fmt.Sprintf("%d more", more))
		}
		says = append(says, missing...)
	}
	return strings.Join(says, ", ")
}

// mostMissing bounds how many missing shards are named.
const mostMissing = 20

func parted(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, between)
}

// Moved are figures as a report in another folder gives them: their folders from there on.
func Moved(all []Figures, from, to string) error {
	for i := range all {
		if all[i].Folder == "" {
			continue
		}
		there, err := filepath.Rel(to, filepath.Join(from, filepath.FromSlash(all[i].Folder)))
		if err != nil {
			return fmt.Errorf("the pictures of %s cannot be reached from %s; write the merged report on the same disc", from, to)
		}
		all[i].Folder = filepath.ToSlash(there)
	}
	return nil
}
