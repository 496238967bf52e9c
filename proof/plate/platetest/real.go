// Package platetest gives tests the real plates that lie beside the checkout:
// plates of c. 1905 to 1915 (Library of Congress, Prints & Photographs Division,
// Prokudin-Gorskii Collection), with maps found by an independent library; see
// shared/plates/README.md. Where they are missing a test skips.
package platetest

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/filter"
	"threeply/proof/plate"
	"threeply/proof/scan"
)

// Set is three real plates in one file, and where the red and the blue one lie
// against the green one.
type Set struct {
	File  string
	Known [3]*Known // by filter; nil where it is not known, and of the green plate
}

// Known is a map that an independent library found, by whoever looked at it.
type Known struct {
	Map   affine.Matrix // the green plate's pixel → the plate's
	Grade string        // “A” is the surest
	Eye   string        // seen where a person saw that it is right
	W, H  float64       // of the green plate
}

// Sets lists the sets of real plates. folder is the one of shared plates, as seen
// from the test's own.
func Sets(t testing.TB, folder string) []Set {
	t.Helper()
	f, err := os.Open(filepath.Join(folder, "registration.csv"))
	if err != nil {
		t.Skipf("the shared plates are not on this machine, nothing is tested here: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	at := map[string]int{}
	var sets []Set
	for _, row := range rows[1:] {
		number := func(name string) float64 {
			v, err := strconv.ParseFloat(row[column[name]], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		name := row[column["file"]]
		if _, listed := at[name]; !listed {
			at[name] = len(sets)
			sets = append(sets, Set{File: name})
		}
		channel, ok := filter.Named(row[column["channel"]])
		if !ok {
			t.Fatalf("%s: no filter %q", name, row[column["channel"]])
		}
		sets[at[name]].Known[channel] = &Known{
			Map:   affine.Matrix{number("a11"), number("a12"), number("a13"), number("a21"), number("a22"), number("a23")},
			Grade: row[column["grade"]], Eye: row[column["eye"]], W: number("part_w"), H: number("part_h"),
		}
	}
	return sets
}

// Sure keeps the sets of which a person saw that both maps are right, and which are
// no colour picture that holds a ghost of each plate in the others.
func Sure(sets []Set) []Set {
	const ghosts = "melons_unaligned_bgr.jpg"
	var sure []Set
	for _, s := range sets {
		red, blue := s.Known[filter.Red], s.Known[filter.Blue]
		if s.File != ghosts && red != nil && blue != nil && red.Eye == seen && blue.Eye == seen {
			sure = append(sure, s)
		}
	}
	return sure
}

// seen is what Eye says of a map that a person saw to be right.
const seen = "ok"

// Open opens a set of three exposures one below the other.
func (s Set) Open(t testing.TB, folder string) *plate.Set {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, s.File))
	if err != nil {
		t.Fatal(err)
	}
	set, err := plate.Open([]plate.File{{Name: s.File, Data: scan.Bytes(data)}}, plate.Options{Layout: plate.Tall}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return set
}
