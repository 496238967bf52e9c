package plate

import (
	"path"
	"slices"
	"strings"
	"unicode"
)

// filterWords are the words that name a taking filter in file names, whole
// words only: colours in English, French, German, Italian, Spanish, the
// printers that the plates make ("blue-green" for cyan is the older word), and
// the numbers of the usual tri-colour filters, 25 red, 58 green, 47 blue, with
// their older letters A, B and C5 (common practice).
var filterWords = map[string]Filter{
	"red": Red, "r": Red, "rot": Red, "rouge": Red, "rosso": Red, "rojo": Red, "cyan": Red, "c": Red, "25": Red, "25a": Red, "29": Red, "f29": Red, "bluegreen": Red,
	"green": Green, "g": Green, "gruen": Green, "grün": Green, "vert": Green, "verde": Green, "magenta": Green, "m": Green, "58": Green, "58b": Green, "61": Green,
	"blue": Blue, "b": Blue, "blau": Blue, "bleu": Blue, "blu": Blue, "azul": Blue, "yellow": Blue, "y": Blue, "47": Blue, "47b": Blue, "49": Blue,
}

// words splits a file name, without its extension, at anything that is neither
// letter nor digit, between letters and digits, and where a capital follows a
// small letter.
func words(name string) []string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.TrimSuffix(name, path.Ext(name))
	for _, pair := range []string{"blue-green", "blue_green", "blue green", "Blue-Green", "Blue-green"} {
		name = strings.ReplaceAll(name, pair, "bluegreen")
	}
	var out []string
	var word []rune
	flush := func() {
		if len(word) > 0 {
			out = append(out, strings.ToLower(string(word)))
			word = word[:0]
		}
	}
	var last rune
	for _, r := range name {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			flush()
			last = r
			continue
		case unicode.IsUpper(r) && unicode.IsLower(last), unicode.IsLetter(r) && unicode.IsDigit(last) && len(word) > 2:
			flush()
		case unicode.IsDigit(r) && unicode.IsLetter(last):
			flush()
		}
		word = append(word, r)
		last = r
	}
	flush()
	return out
}

// assign guesses from three file names which is which. Words that all three
// names share say nothing. ok is false where the names do not settle it; the
// given order is then taken as red, green, blue.
func assign(names [3]string) (of [3]int, ok bool) {
	var split [3][]string
	for i, n := range names {
		split[i] = words(n)
	}
	var found [3][]Filter
	for i, own := range split {
		for _, w := range own {
			f, known := filterWords[w]
			if !known || (slices.Contains(split[(i+1)%3], w) && slices.Contains(split[(i+2)%3], w)) {
				continue
			}
			if !slices.Contains(found[i], f) {
				found[i] = append(found[i], f)
			}
		}
	}
	given := [3]int{0, 1, 2}
	of = [3]int{-1, -1, -1}
	for i, f := range found {
		if len(f) != 1 {
			if len(f) > 1 {
				return given, false
			}
			continue
		}
		if of[f[0]] >= 0 {
			return given, false
		}
		of[f[0]] = i
	}
	left, missing := 3, -1 // two that are named name the third
	for f, i := range of {
		if i < 0 {
			if missing >= 0 {
				return given, false
			}
			missing = f
		} else {
			left -= i
		}
	}
	if missing >= 0 {
		of[missing] = left
	}
	return of, true
}
