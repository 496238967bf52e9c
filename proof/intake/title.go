package intake

import (
	"path"
	"strings"
	"unicode"

	"threeply/proof/plate"
)

// titleOf is what the names of the files begin with in common, in whole words
// and without their ending; all of it where the plates share one file.
func titleOf(set *plate.Set) string {
	first := stem(set.Sources[0].Name)
	title := first
	for _, s := range set.Sources[1:] {
		if other := stem(s.Name); other != first {
			title = title[:commonWords(title, other)]
		}
	}
	title = strings.ToValidUTF8(title, "")
	title = strings.TrimSpace(strings.NewReplacer("_", " ", "-", " ").Replace(title))
	if title == "" {
		return "Untitled"
	}
	return title
}

// stem is a file's name without its folders and its ending.
func stem(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	return strings.TrimSuffix(name, path.Ext(name))
}

// commonWords is the length in bytes of the whole words that both names begin with.
func commonWords(a, b string) int {
	same := 0
	others := wordEnds(b)
	for i, end := range wordEnds(a) {
		if i >= len(others) || end != others[i] || a[:end] != b[:end] {
			break
		}
		same = end
	}
	return same
}

// wordEnds returns the bytes after which a word of a name ends. Words are runs
// of letters or of digits; a capital after a small letter begins another.
func wordEnds(name string) []int {
	const none, letter, digit = 0, 1, 2
	var ends []int
	last, small := none, false
	for at, r := range name {
		kind := none
		switch {
		case unicode.IsMark(r): // an accent of the letter before
			continue
		case unicode.IsLetter(r):
			kind = letter
		case unicode.IsDigit(r):
			kind = digit
		}
		if last != none && (kind != last || small && unicode.IsUpper(r)) {
			ends = append(ends, at)
		}
		last, small = kind, unicode.IsLower(r)
	}
	if last != none {
		ends = append(ends, len(name))
	}
	return ends
}
