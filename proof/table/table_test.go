package table

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// read reads a table with a reader that is not ours.
func read(t *testing.T, text string) [][]string {
	t.Helper()
	rest, marked := strings.CutPrefix(text, "\xef\xbb\xbf")
	if !marked {
		t.Errorf("no byte-order mark before %q", text)
	}
	rows, err := csv.NewReader(strings.NewReader(rest)).ReadAll()
	if err != nil {
		t.Fatalf("%v in %q", err, text)
	}
	return rows
}

// RFC 4180, 2: records end by CR LF; a field with a comma, a quote or the end of a
// line stands in quotes, and a quote in it is doubled (from memory).
func TestTheRulesOfTheRFC(t *testing.T) {
	var table Table
	table.Head("quantity", "µm, on the print")
	table.Add(Text(`a "plate"`), Number(-0.25, 6))
	table.Add(Text("two\r\nlines"))
	if got, want := table.CSV(), "\ufeffquantity,\"µm, on the print\"\r\n\"a \"\"plate\"\"\",-0.25\r\n\"two\nlines\",\r\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// The signs by which a spreadsheet knows a formula, of the project's page on CSV
// injection: = + - @, tab, carriage return, line feed and the wide forms (from
// memory).
func TestATextIsNoFormula(t *testing.T) {
	for _, sign := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
		for _, blank := range []string{"", " ", "\u00a0", "\ufeff", "\x00"} {
			if strings.Contains("\t\r\n", sign) && blank != "" && blank != "\ufeff" {
				continue
			}
			name := blank + sign + "cmd|' /C calc'!A0,\";=2+3"
			var table Table
			table.Add(Text(name), Text("next"))
			rows := read(t, table.CSV())
			if len(rows) != 1 || len(rows[0]) != 2 || !strings.HasPrefix(rows[0][0], "'") || !strings.HasSuffix(rows[0][0], name[len(name)-10:]) || rows[0][1] != "next" {
				t.Errorf("%q becomes %q", name, rows)
			}
		}
	}
	for _, plain := range []string{"", "red.tif", "a=b", "winter-1", "me@home", "1 + 1", "– a dash", "ümläute µ"} {
		var table Table
		table.Add(Text(plain), Text("next"))
		if rows := read(t, table.CSV()); rows[0][0] != plain {
			t.Errorf("%q becomes %q", plain, rows)
		}
	}
}

// Numbers stay numbers, below zero too; what is none leaves its cell empty.
func TestNumbersStayNumbers(t *testing.T) {
	for _, v := range []float64{0, -1, 1.5, -12345.678, 1e-9, -3e200, math.Copysign(0, -1)} {
		var table Table
		table.Add(Number(v, 9))
		got, err := strconv.ParseFloat(read(t, table.CSV())[0][0], 64)
		if err != nil || math.Abs(got-v) > 1e-8*math.Abs(v) {
			t.Errorf("%g becomes %g, %v", v, got, err)
		}
	}
	var table Table
	table.Add(Number(math.NaN(), 6), Number(math.Inf(-1), 6), Number(math.Inf(1), 6))
	if rows := read(t, table.CSV()); strings.Join(rows[0], "") != "" {
		t.Errorf("%q", rows)
	}
}

// Every row has as many cells, and an empty one is not lost.
func TestShortRowsEndInEmptyCells(t *testing.T) {
	var wide, narrow Table
	wide.Head("a", "b", "c")
	wide.Add(Text("1"))
	wide.Add()
	for _, row := range read(t, wide.CSV()) {
		if len(row) != 3 {
			t.Errorf("%q", row)
		}
	}
	narrow.Add(Cell{})
	narrow.Add(Text(""))
	if rows := read(t, narrow.CSV()); len(rows) != 2 {
		t.Errorf("%q", rows)
	}
	if (&Table{}).CSV() != ByteOrderMark {
		t.Error("a table without rows has some")
	}
}

// Whatever the texts, as many cells come back, holding them, and none of them is
// a formula.
func FuzzText(f *testing.F) {
	f.Add("=1+1", "a,b")
	f.Add("\xff\"\r", "\r\n-")
	f.Add(" \u00a0@x", "\x00\t'")
	f.Fuzz(func(t *testing.T, a, b string) {
		var table Table
		table.Add(Text(a), Number(-1, 3), Text(b))
		table.Add(Text(b), Text(a))
		text := table.CSV()
		if !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
			t.Fatalf("%q", text)
		}
		rows := read(t, text)
		if len(rows) != 2 || len(rows[0]) != 3 || len(rows[1]) != 3 || rows[0][1] != "-1" {
			t.Fatalf("%q becomes %q", []string{a, b}, rows)
		}
		for _, c := range []struct{ given, got string }{{a, rows[0][0]}, {b, rows[0][2]}, {b, rows[1][0]}, {a, rows[1][1]}} {
			want := strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(strings.ToValidUTF8(c.given, "\ufffd"), "\r\n", "\n"), "\r", "\n"), "\x00", " "), "\ufeff", "")
			if c.got != want && c.got != "'"+want {
				t.Errorf("%q becomes %q", c.given, c.got)
			}
			if strings.ContainsAny(strings.TrimLeft(c.got, " \u00a0")[:min(1, len(strings.TrimLeft(c.got, " \u00a0")))], "=+-@\t\n") {
				t.Errorf("%q is a formula", c.got)
			}
		}
	})
}
