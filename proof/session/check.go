package session

import (
	"fmt"
	"math"

	"threeply/proof/filter"
	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/proof/stack"
	"threeply/proof/transfer"
)

// Check holds a state to what the rest of the program relies on.
func (s *State) Check() error {
	if err := s.checkOwn(); err != nil {
		return err
	}
	if _, ok := s.PaletteByID(s.Palette); !ok {
		return fmt.Errorf("no palette “%s”", s.Palette)
	}
	if _, err := stack.ParseOrder(s.Order); err != nil {
		return err
	}
	if _, ok := s.PaperByID(s.Paper); !ok {
		return fmt.Errorf("no paper “%s”", s.Paper)
	}
	if _, ok := stack.FinishByID(s.Finish); !ok {
		return fmt.Errorf("no finish “%s”", s.Finish)
	}
	if _, ok := spectrum.LightByID(s.Light); !ok {
		return fmt.Errorf("no light “%s”", s.Light)
	}
	if _, ok := transfer.RouteByID(s.Route); !ok {
		return fmt.Errorf("no route “%s”", s.Route)
	}
	if _, ok := filter.Named(s.Key); !ok {
		return fmt.Errorf("no plate “%s” to be the key", s.Key)
	}
	seen := [3]bool{}
	for _, a := range s.Assign {
		if a < 0 || a > 2 || seen[a] {
			return fmt.Errorf("the three plates need three different sources, not %v", s.Assign)
		}
		seen[a] = true
	}
	if s.Grain != "upright" && s.Grain != "level" {
		return fmt.Errorf("the grain cannot run “%s”: there are upright and level", s.Grain)
	}
	if s.Bench != "magenta" && s.Bench != "cyan" {
		return fmt.Errorf("nobody can lay layers against %s: it is too faint to be seen; there are magenta and cyan", s.Bench)
	}
	if err := s.checkMarks(); err != nil {
		return err
	}
	if err := s.checkFilms(); err != nil {
		return err
	}
	return s.checkRanges()
}

// mostLimit is the largest limit that a session may hold: there are saved ones
// that ask for more than the whole coat, 1, and print as if they asked for that.
const mostLimit = 2.5

func (s *State) checkRanges() error {
	if err := s.checkLengths(); err != nil {
		return err
	}
	if !Within(s.Limit, 0.2, mostLimit) {
		return fmt.Errorf("layers up to %g of their coat: 0.2 to %g can be set", s.Limit, mostLimit)
	}
	for i, o := range s.Offsets {
		name := pigment.Printer(i)
		if limit := s.PrintWidth * 1000; !Within(o.DX, -limit, limit) || !Within(o.DY, -limit, limit) {
			return fmt.Errorf("%s would lie off the print", name)
		}
		if !Within(o.Turn, -45, 45) || !Within(o.Stretch, -20, 20) || !Within(o.Across, -20, 20) {
			return fmt.Errorf("%s turned by %g° and stretched by %g %%, %g %% across the grain: up to 45° and 20 %% can be set", name, o.Turn, o.Stretch, o.Across)
		}
	}
	for i := range s.Local {
		if l := &s.Local[i]; l.W != 0 && l.Folds() {
			return fmt.Errorf("a local register of %s that folds the picture", s.Sources[i].File)
		}
	}
	for _, f := range s.Found {
		if _, ok := f.Matrix.Inverse(); !ok {
			return fmt.Errorf("a register matrix that cannot be undone: %v", f.Matrix)
		}
	}
	l := s.Section
	if !Within(l.X0, 0, 1) || !Within(l.X1, 0, 1) || !Within(l.Y0, 0, 1) || !Within(l.Y1, 0, 1) || math.Hypot(l.X1-l.X0, l.Y1-l.Y0) < 0.01 {
		return fmt.Errorf("the section's line must lie on the picture and be longer than a hundredth of it")
	}
	return nil
}

// Within tells whether v lies between low and high, both included. It is false for a NaN.
func Within(v, low, high float64) bool { return v >= low && v <= high }

func (s *State) checkMarks() error {
	if s.By != ByRegister && s.By != ByMarks && s.By != ByBoth {
		return fmt.Errorf("plates cannot be registered by “%s”: there are auto, marks and both", s.By)
	}
	if !Within(s.MarkShare, 0.01, 0.99) {
		return fmt.Errorf("marks with a share of %g: 0.01 to 0.99 can be set", s.MarkShare)
	}
	for i, m := range s.Marks {
		if m.N < 1 || s.MarkOf(m.N) != i {
			return fmt.Errorf("two marks have the number %d, or it is no number of a mark", m.N)
		}
		if !Within(m.Weight, 0.01, 100) {
			return fmt.Errorf("mark %d has a weight of %g: 0.01 to 100 can be set", m.N, m.Weight)
		}
		for _, p := range m.At {
			if !Within(p.Certainty, 0, 1) {
				return fmt.Errorf("mark %d has a certainty of %g: it can be 0 to 1", m.N, p.Certainty)
			}
		}
	}
	return nil
}

// checkOwn holds the session's own palettes and papers to what stack relies on.
func (s *State) checkOwn() error {
	seen := map[string]bool{}
	for _, p := range s.OwnPalettes {
		if err := p.Check(); err != nil {
			return fmt.Errorf("the palette “%s”: %w", p.Name, err)
		}
		if _, built := pigment.PaletteByID(p.ID); built || seen[p.ID] {
			return fmt.Errorf("two palettes have the id “%s”", p.ID)
		}
		seen[p.ID] = true
	}
	for _, p := range s.OwnPapers {
		if _, built := stack.PaperByID(p.ID); built || seen[p.ID] || p.ID == "" {
			return fmt.Errorf("two papers have the id “%s”, or it has none", p.ID)
		}
		seen[p.ID] = true
		if err := p.Check(); err != nil {
			return fmt.Errorf("the paper “%.80s”: %w", p.Name, err)
		}
	}
	return s.Spread.Check()
}
