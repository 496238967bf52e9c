package testsheet

import (
	"encoding/json"
	"fmt"
	"strconv"

	"threeply/proof/pigment"
)

// plan is a sheet as JSON has it. Its name and what wrote it are for people and archives.
type plan struct {
	Sheet   string   `json:"sheet,omitempty"`
	Palette string   `json:"palette,omitempty"` // its name
	Written *written `json:"written,omitempty"`
	Patches []entry  `json:"patches"`
}

type written struct {
	By string `json:"by"` // the tool with its version
	At string `json:"at"` // RFC 3339
}

type entry struct {
	ID     string `json:"id"`
	Use    string `json:"use"`
	Ground string `json:"ground"`
	LogE   lights `json:"logE"` // null where the layer is absent
}

type lights struct {
	Yellow  *float64 `json:"yellow"`
	Magenta *float64 `json:"magenta"`
	Cyan    *float64 `json:"cyan"`
}

// MarshalJSON writes the patches: what each is for, its ground, and log10 of its
// exposure in each layer.
func (s Sheet) MarshalJSON() ([]byte, error) { return json.Marshal(s.plan()) }

// File is the plan of a palette's sheet as it lies in a file, which says too of which sheet it is, what
// tool wrote it and when (RFC 3339).
func (s Sheet) File(p pigment.Palette, tool, at string) ([]byte, error) {
	out := s.plan()
	out.Sheet, out.Palette, out.Written = s.Name(p), p.Name, &written{tool, at}
	text, err := json.MarshalIndent(out, "", "  ")
	return append(text, '\n'), err
}

func (s Sheet) plan() plan {
	out := plan{Patches: []entry{}}
	for _, p := range s.Patches {
		e := entry{ID: p.ID, Use: p.Use, Ground: p.Ground}
		for i, to := range [3]**float64{&e.LogE.Yellow, &e.LogE.Magenta, &e.LogE.Cyan} {
			if p.Has[i] {
				*to = &p.LogE[i]
			}
		}
		out.Patches = append(out.Patches, e)
	}
	return out
}

// Origin is where a plan comes from, as far as it says so.
type Origin struct {
	Palette string // the name of the sheet's palette
	At      string // when the plan was written, RFC 3339
}

// Read reads what MarshalJSON and File write: the plan of a sheet that was printed. The error
// says which patch is wrong and what to do.
func Read(text []byte) (Sheet, Origin, error) {
	var in plan
	if err := json.Unmarshal(text, &in); err != nil {
		return Sheet{}, Origin{}, fmt.Errorf("this is no plan of a test sheet (%w); name the test-sheet.json that was written with its negatives", err)
	}
	if len(in.Patches) == 0 || len(in.Patches) > most {
		return Sheet{}, Origin{}, fmt.Errorf("a plan of %d patches; a test sheet has 1 to %d: name the test-sheet.json that was written with its negatives", len(in.Patches), most)
	}
	of := Origin{Palette: in.Palette}
	if in.Written != nil {
		of.At = in.Written.At
	}
	s, err := in.sheet()
	return s, of, err
}

func (in plan) sheet() (Sheet, error) {
	s := Sheet{}
	seen := map[string]bool{}
	for _, e := range in.Patches {
		p := Patch{ID: e.ID, Use: e.Use, Ground: e.Ground}
		var ok bool
		switch p.Row, p.Col, ok = place(e.ID); {
		case !ok:
			return Sheet{}, fmt.Errorf("“%.20s” is no place on a test sheet; places are such as A1 and C12", e.ID)
		case seen[e.ID]:
			return Sheet{}, fmt.Errorf("patch %s stands twice in the plan; leave one out", e.ID)
		case e.Use != Fit && e.Use != HeldOut && e.Use != Repeat:
			return Sheet{}, fmt.Errorf("patch %s: “%.20s” is no use; it is %s, %s or %s", e.ID, e.Use, Fit, HeldOut, Repeat)
		case e.Ground != White && e.Ground != Dark:
			return Sheet{}, fmt.Errorf("patch %s: “%.20s” is no ground; it is %s or %s", e.ID, e.Ground, White, Dark)
		}
		seen[e.ID] = true
		for i, v := range [3]*float64{e.LogE.Yellow, e.LogE.Magenta, e.LogE.Cyan} {
			if v == nil {
				continue
			}
			if !(*v >= -mostDensity && *v <= mostDensity) {
				return Sheet{}, fmt.Errorf("patch %s: a log exposure of %g in the %s layer; it must lie within ±%d", e.ID, *v, pigment.Printer(i), mostDensity)
			}
			p.Has[i], p.LogE[i] = true, *v
		}
		s.Patches = append(s.Patches, p)
		s.Rows, s.Cols = max(s.Rows, p.Row+1), max(s.Cols, p.Col+1)
	}
	s.DarkRow = s.Rows
	for _, p := range s.Patches {
		if p.Ground == Dark {
			s.DarkRow = min(s.DarkRow, p.Row)
		}
	}
	return s, nil
}

// What a plan can hold.
const (
	most        = 400 // patches
	mostDensity = 6
)

// place is the row and the column of an id.
func place(id string) (row, col int, ok bool) {
	if len(id) < 2 || id[0] < 'A' || id[0] > 'Z' {
		return 0, 0, false
	}
	n, err := strconv.Atoi(id[1:])
	if err != nil || n < 1 || n > 99 || ID(int(id[0]-'A'), n-1) != id {
		return 0, 0, false
	}
	return int(id[0] - 'A'), n - 1, true
}
