package plate

import (
	"path"
	"slices"
	"strings"
	"unicode"

	"threeply/proof/filter"
)

// naming is one way in which people name plates.
type naming struct {
	filterOf map[string]filter.Filter // by a word in small letters
	leftOver bool                     // where two plates are named, the third is what is left over
}

const red, green, blue = filter.Red, filter.Green, filter.Blue

// namings are tried in this order. Only whole words count.
var namings = []naming{
	{ // the filters or the printers, in English, French, German, Italian, Spanish
		filterOf: map[string]filter.Filter{
			"red": red, "rot": red, "rouge": red, "rosso": red, "rojo": red, "cyan": red, "bluegreen": red,
			"green": green, "gruen": green, "grün": green, "vert": green, "verde": green, "magenta": green,
			"blue": blue, "blau": blue, "bleu": blue, "blu": blue, "azul": blue, "yellow": blue, "gelb": blue, "jaune": blue,
		},
		leftOver: true,
	},
	{ // the printers of older speech: blue-green or blue, red, yellow
		filterOf: map[string]filter.Filter{"cyan": red, "bluegreen": red, "blue": red, "red": green, "yellow": blue},
	},
	{ // the numbers of the usual tri-colour filters, common practice
		filterOf: map[string]filter.Filter{"25": red, "29": red, "58": green, "61": green, "47": blue, "49": blue},
	},
	{filterOf: map[string]filter.Filter{"r": red, "g": green, "b": blue}},
	{filterOf: map[string]filter.Filter{"c": red, "m": green, "y": blue}},
}

// words splits a file name, without its extension, at anything that is neither
// letter nor digit, between letters and digits, and where a capital follows a
// small letter.
func words(name string) []string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.TrimSuffix(name, path.Ext(name))
	for _, spelling := range []string{"blue-green", "blue_green", "blue green", "Blue-Green", "Blue-green"} {
		name = strings.ReplaceAll(name, spelling, "bluegreen")
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

// assign guesses from three file names which is the red, the green and the blue
// plate, and returns their indices in that order. Words that all three names share
// say nothing. ok is false where the names do not tell; the given order is then
// taken as red, green, blue.
func assign(names [3]string) (of [3]int, ok bool) {
	var own [3][]string
	for i, n := range names {
		own[i] = words(n)
	}
	for i, w := range own {
		own[i] = slices.DeleteFunc(slices.Clone(w), func(s string) bool {
			return slices.Contains(words(names[(i+1)%3]), s) && slices.Contains(words(names[(i+2)%3]), s)
		})
	}
	for _, n := range namings {
		if of, ok := n.read(own); ok {
			return of, true
		}
	}
	return [3]int{0, 1, 2}, false
}

// read takes the words of three names for this naming. ok is false where one name
// says two filters, two names say the same one, or too few say any.
func (n naming) read(names [3][]string) (of [3]int, ok bool) {
	of = [3]int{-1, -1, -1}
	named, silent := 0, 0
	for i, own := range names {
		said := -1
		for _, w := range own {
			f, known := n.filterOf[w]
			if !known || int(f) == said {
				continue
			}
			if said >= 0 {
				return of, false
			}
			said = int(f)
		}
		if said < 0 {
			silent = i
			continue
		}
		if of[said] >= 0 {
			return of, false
		}
		of[said] = i
		named++
	}
	if named == 2 && n.leftOver {
		of[slices.Index(of[:], -1)] = silent
		named = 3
	}
	return of, named == 3
}
