package session

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
)

// Within tells whether v lies between low and high, both included. It is false for a NaN.
func Within(v, low, high float64) bool { return v >= low && v <= high }

// Check holds a state to what the rest of the program relies on. The error is a
// *Fault, the first found.
func (s *State) Check() error {
	if f := ofState().check(reflect.ValueOf(s).Elem()); f != nil {
		return f
	}
	for _, check := range []func(*State) *Fault{
		(*State).checkSources, (*State).checkFilms, (*State).checkRegister, (*State).checkMarks, (*State).checkOwn, (*State).checkPrinted, (*State).checkRecipe, (*State).checkPrint, (*State).checkRecord, (*State).checkPoints, (*State).checkHeld, (*State).checkBench,
	} {
		if f := check(s); f != nil {
			return f
		}
	}
	return nil
}

// mostRemarks bounds what is said of one source.
const mostRemarks = 20

// HashPattern is the form of a SHA-256 in a session, as a regular expression.
const HashPattern = "^[0-9a-f]{64}$"

// checkSources: there are three plates, or none.
func (s *State) checkSources() *Fault {
	some := s.Sources[0].File != "" || s.Sources[1].File != "" || s.Sources[2].File != ""
	for i := range s.Sources {
		at := fmt.Sprintf("sources[%d]", i)
		if f := s.Sources[i].check(some); f != nil {
			f.Place = at + f.Place
			return f
		}
	}
	seen := [3]bool{}
	for f, a := range s.Assign {
		if seen[a] {
			return fault(fmt.Sprintf("assign[%d]", f), "the three plates need three different sources, not %v", s.Assign)
		}
		seen[a] = true
	}
	return nil
}

// isHash tells whether a text is as HashPattern has it.
func isHash(text string) bool {
	return len(text) == 64 && strings.Trim(text, "0123456789abcdef") == ""
}

func (src *Source) check(some bool) *Fault {
	if src.SHA256 != "" && !isHash(src.SHA256) {
		return fault(".sha256", "“%.70s” is no SHA-256: it has 64 small hexadecimal digits", src.SHA256)
	}
	if len(src.Remarks) > mostRemarks {
		return fault(".remarks", "%d remarks on a plate: there can be %d", len(src.Remarks), mostRemarks)
	}
	if !some {
		if src.W != 0 || src.H != 0 {
			return fault(".file", "a scan of %d × %d pixels has no file", src.W, src.H)
		}
		return nil
	}
	switch a := src.Area; {
	case src.File == "":
		return fault(".file", "a plate has no file")
	case src.W == 0:
		return fault(".width", "%s: it has no width", src.File)
	case src.H == 0:
		return fault(".height", "%s: it has no height", src.File)
	case float64(src.W)*float64(src.H) > MostPixels:
		return fault(".width", "%s: %d × %d pixels are more than the %.0f million that can be opened", src.File, src.W, src.H, MostPixels/1e6)
	case src.Film.Gamma == 0:
		return fault(".film.gamma", "%s: its film has no contrast γ", src.File)
	case a != [4]int{} && !(a[0] < a[2] && a[1] < a[3] && a[2] <= src.W && a[3] <= src.H):
		return fault(".area", "%s: the picture within its borders, %v, does not lie on the scan", src.File, a)
	}
	return nil
}

// most is the largest factor by which register can stretch or shrink a plate, along
// any direction. Placing by hand goes up to 4 against the key, which can lie so itself.
const most = 50

// sane tells whether a map between two scans can be worked with.
func sane(m affine.Matrix) bool {
	// The two factors that m stretches by, its singular values, have the squares
	// t ± √(t² - det²), with t half the sum of its squares.
	a, b, c, d := m[0], m[1], m[3], m[4]
	t := (a*a + b*b + c*c + d*d) / 2
	spare := math.Sqrt(max(t*t-m.Det()*m.Det(), 0))
	largest := math.Sqrt(t + spare)
	return largest > 0 && largest <= most && math.Abs(m.Det())/largest >= 1.0/most
}

func (s *State) checkRegister() *Fault {
	for i, f := range s.Found {
		if !sane(f.Matrix) {
			return fault(fmt.Sprintf("found[%d].matrix", i), "a register that folds a plate, or stretches it by more than %d times: %v", most, f.Matrix)
		}
	}
	if (s.Registered == "none") != (s.FoundKey < 0) {
		return fault("found_key", "plates whose register is “%s” cannot have been registered to the source %d", s.Registered, s.FoundKey)
	}
	for i := range s.Local {
		l, at := &s.Local[i], fmt.Sprintf("local[%d]", i)
		switch {
		case l.W == 0:
		case l.W < 2 || l.H < 2:
			return fault(at, "a local register of a picture of %d × %d pixels", l.W, l.H)
		case l.Folds():
			return fault(at, "a local register of %s that folds the picture", s.Sources[i].File)
		}
		if wrong := s.Survey[i].Fault(); wrong != "" {
			return fault(fmt.Sprintf("survey[%d]", i), "%s", wrong)
		}
	}
	return nil
}

func (s *State) checkMarks() *Fault {
	if len(s.Marks) > MostMarks {
		return fault("marks", "%d marks: there can be %d", len(s.Marks), MostMarks)
	}
	for k, m := range s.Marks {
		if s.MarkOf(m.N) != k {
			return fault(fmt.Sprintf("marks[%d].n", k), "two marks have the number %d", m.N)
		}
		for i, p := range m.At {
			if src := s.Sources[i]; p.Set && (!Within(p.X, -0.5, float64(src.W)-0.5) || !Within(p.Y, -0.5, float64(src.H)-0.5)) {
				return fault(fmt.Sprintf("marks[%d].at[%d]", k, i), "mark %d at %.0f, %.0f lies off %s", m.N, p.X, p.Y, src.File)
			}
		}
	}
	return nil
}

// checkOwn holds the session's own palettes and papers to what stack relies on.
func (s *State) checkOwn() *Fault {
	if len(s.OwnPalettes) > MostOwn || len(s.OwnPapers) > MostOwn {
		return fault("own_palettes", "%d palettes and %d papers of your own: there can be %d of each", len(s.OwnPalettes), len(s.OwnPapers), MostOwn)
	}
	seen := map[string]bool{}
	for i, p := range s.OwnPalettes {
		at := fmt.Sprintf("own_palettes[%d]", i)
		if err := p.Check(); err != nil {
			if inner, ok := errors.AsType[*pigment.Fault](err); ok {
				for _, step := range inner.Path {
					if n, ok := step.(int); ok {
						at += fmt.Sprintf("[%d]", n)
					} else {
						at += fmt.Sprintf(".%v", step)
					}
				}
			}
			return fault(at, "the palette “%.80s”: %v", p.Name, err)
		}
		if _, built := pigment.PaletteByID(p.ID); built || seen[p.ID] {
			return fault(at+".id", "two palettes have the id “%s”", p.ID)
		}
		seen[p.ID] = true
	}
	for i, p := range s.OwnPapers {
		at := fmt.Sprintf("own_papers[%d]", i)
		if _, built := stack.PaperByID(p.ID); built || seen[p.ID] || p.ID == "" {
			return fault(at+".id", "two papers have the id “%s”, or it has none", p.ID)
		}
		seen[p.ID] = true
		if err := p.Check(); err != nil {
			return fault(at, "the paper “%.80s”: %v", p.Name, err)
		}
	}
	return nil
}

func (s *State) checkRecipe() *Fault {
	if _, ok := s.PaletteByID(s.Palette); !ok {
		return fault("palette", "there is no palette “%.40s”", s.Palette)
	}
	if _, ok := s.PaperByID(s.Paper); !ok {
		return fault("paper", "there is no paper “%.40s”", s.Paper)
	}
	if _, ok := spectrum.LightByID(s.Light); !ok {
		return fault("light", "there is no light “%.40s”", s.Light)
	}
	return nil
}

func (s *State) checkPrint() *Fault {
	for i, o := range s.Offsets {
		if limit := s.PrintWidth * 1000; math.Abs(o.DX) > limit || math.Abs(o.DY) > limit {
			return fault(fmt.Sprintf("offsets[%d]", i), "the %s layer would lie off the print", pigment.Printer(i))
		}
	}
	if l := s.Section; math.Hypot(l.X1-l.X0, l.Y1-l.Y0) < 0.01 {
		return fault("section", "the section's line must be longer than a hundredth of the picture")
	}
	return nil
}
