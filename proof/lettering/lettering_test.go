package lettering

import "testing"

// Lines keep to the width, all words are there, and a bold text has more ink.
func TestWrapped(t *testing.T) {
	const words = "Likely print, an estimate: Clear arylide, from the paper up yellow, magenta, cyan"
	whole, err := Text(words, Regular, 20)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := Wrapped(words, Regular, 20, 300)
	if err != nil {
		t.Fatal(err)
	}
	wide := 0
	for i, line := range lines {
		if line.Rect.Dx() > 300 {
			t.Errorf("line %d is %d px wide", i, line.Rect.Dx())
		}
		wide += line.Rect.Dx()
	}
	if len(lines) < 2 || wide < whole.Rect.Dx()*9/10 {
		t.Errorf("%d lines of %d px together, of a text of %d", len(lines), wide, whole.Rect.Dx())
	}
	if one, err := Wrapped("Aquamarine", Regular, 20, 10); err != nil || len(one) != 1 {
		t.Errorf("a word that is too wide: %d lines, %v", len(one), err)
	}
	ink := func(weight int) (sum int) {
		img, err := Text("Threeply", weight, 30)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range img.Pix {
			sum += int(a)
		}
		return sum
	}
	if ink(Bold) <= ink(Regular) {
		t.Error("bold is no bolder")
	}
}
