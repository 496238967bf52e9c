package filter

import (
	"testing"

	"threeply/proof/pigment"
)

// The red-filter plate makes the cyan printer, the green the magenta, the blue the
// yellow one (common practice of three-colour printing).
func TestPrinters(t *testing.T) {
	for f, want := range map[Filter]pigment.Printer{Red: pigment.Cyan, Green: pigment.Magenta, Blue: pigment.Yellow} {
		if got := f.Printer(); got != want {
			t.Errorf("the %s plate makes the %s printer, not the %s one", f, got, want)
		}
		if back := Of(want); back != f {
			t.Errorf("the %s printer is of the %s plate, not the %s one", want, back, f)
		}
	}
}

func TestNames(t *testing.T) {
	for i, f := range All {
		if got, ok := Named(f.String()); !ok || got != f || int(f) != i {
			t.Errorf("filter %d, %s, is %s, %v", i, f, got, ok)
		}
	}
	for _, name := range []string{"", "Red", "cyan", "violet"} {
		if _, ok := Named(name); ok {
			t.Errorf("%q is a filter", name)
		}
	}
}
