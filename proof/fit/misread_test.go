package fit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// A sheet that was read upside down, mirrored or with two rows swapped is found out,
// whatever the tissues are, and put right; one that was read as planned is left alone.
func TestMisread(t *testing.T) {
	for _, id := range []string{"arylide", "chrome", "earth"} {
		p, s := sheetOf(id)
		recipe := stack.DefaultRecipe(p)
		for seed := range uint64(2) {
			tr := workshop(p, seed)
			for _, text := range []string{tr.sheet(s, 0.003, 0.03, seed, 20, true), tr.densities(s, 0.01, seed, false)} {
				for said, from := range map[string]func(p testsheet.Patch) string{
					"": func(p testsheet.Patch) string { return p.ID },
					"upside down": func(p testsheet.Patch) string {
						return testsheet.ID(s.Rows-1-p.Row, s.Cols-1-p.Col)
					},
					"upside down, the dark ground apart": func(p testsheet.Patch) string {
						if p.Row >= s.DarkRow {
							return p.ID
						}
						return testsheet.ID(s.DarkRow-1-p.Row, s.Cols-1-p.Col)
					},
					"mirrored": func(p testsheet.Patch) string { return testsheet.ID(p.Row, s.Cols-1-p.Col) },
					"with rows B and E swapped": func(p testsheet.Patch) string {
						return testsheet.ID(map[int]int{1: 4, 4: 1}[p.Row]+map[bool]int{true: p.Row}[p.Row != 1 && p.Row != 4], p.Col)
					},
				} {
					name := map[string]string{} // what each patch was called when it was read
					for _, patch := range s.Patches {
						name[patch.ID] = from(patch)
					}
					var lines []string
					for _, line := range strings.Split(text, "\n") {
						for _, separator := range []string{" ", ","} {
							if id, rest, ok := strings.Cut(line, separator); ok && name[id] != "" {
								line = name[id] + separator + rest
								break
							}
						}
						lines = append(lines, line)
					}
					// Names that no patch has are left out by the reader.
					r, err := Take(&s, "A", File{"a.txt", []byte(strings.Join(lines, "\n"))})
					if err != nil {
						continue // so many are no patches that it is refused outright
					}
					got := r.Misread(&s, recipe)
					switch {
					case said == "" && got != nil:
						t.Errorf("%s %d: read as planned, and said to be %s", id, seed, got.Words)
					case said != "" && (got == nil || !strings.HasPrefix(said, got.Words)):
						t.Errorf("%s %d: read %s, and said to be %+v", id, seed, said, got)
					case got != nil:
						r.Mend(got)
						if again := r.Misread(&s, recipe); again != nil {
							t.Errorf("%s %d: put right from %s it is %s", id, seed, said, again.Words)
						}
					}
				}
			}
		}
	}
}

// Two readings of a patch that contradict each other are named by their lines; those of two
// sheets, whose coats differ, are not.
func TestReadingsThatContradict(t *testing.T) {
	p, s := sheetOf("arylide")
	tr := workshop(p, 0)
	for _, text := range []string{tr.sheet(s, 0.003, 0.03, 1, 20, true), tr.densities(s, 0.01, 1, false)} {
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		first := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "A1 ") || strings.HasPrefix(l, "A1,") })
		id, _ := s.Find("A1")
		bare := s.Patches[slices.IndexFunc(s.Patches, testsheet.Patch.Bare)].ID
		other := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, bare+" ") || strings.HasPrefix(l, bare+",") })
		wrong := slices.Clone(lines)
		wrong[first+1] = id.ID + strings.TrimPrefix(lines[other], bare)
		for name, c := range map[string]struct {
			text string
			want int
		}{"as read": {text, 0}, "contradicting": {strings.Join(wrong, "\n"), 1}} {
			r, err := Take(&s, "A", File{"a.txt", []byte(c.text)}, File{"b.txt", []byte(text)})
			if err != nil {
				t.Fatal(err)
			}
			said := 0
			for _, note := range r.Notes {
				if strings.HasPrefix(note, fmt.Sprintf("a.txt, line %d: A1 was read as another colour before, by ", first+2)) {
					said++
				} else if strings.Contains(note, "another colour") {
					t.Errorf("%s: %s", name, note)
				}
			}
			if len(r.Mind) != c.want {
				t.Errorf("%s: to be read first: %q", name, r.Mind)
			}
			if said != c.want {
				t.Errorf("%s: %d contradictions are told, not %d: %q", name, said, c.want, r.Notes)
			}
		}
	}
}
