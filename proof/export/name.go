package export

import (
	"fmt"
	"path"
	"strings"
	"unicode"

	"threeply/proof/session"
)

// longestName bounds what a file's name takes before what the file is, in bytes: with the
// rest it stays below the 255 that most discs take for a name.
const longestName = 120

// FileName is the name under which a file of a session leaves the tool, by the session's
// pattern: the usual one is the title in small letters, then what the file is with its
// ending, such as “proof.png”. Only letters, digits and signs that every disc takes are
// kept. It is never the name of one of the scans, in whatever case, nor that of their
// files in another folder; a number sets it apart.
func FileName(s *session.State, what string) string {
	pattern := s.Names
	if pattern == "" {
		pattern = session.UsualNames
	}
	palette, _ := s.PaletteByID(s.Palette)
	before, behind, _ := strings.Cut(pattern, session.NameWhat)
	fill := func(part string) string {
		return strings.NewReplacer(
			session.NameTitle, nameOf(s.Title), session.NameNumber, nameOf(s.Identity.Number), session.NamePalette, nameOf(palette.Name),
		).Replace(part)
	}
	ending := path.Ext(what)
	before, behind = tidied(fill(before)), tidied(fill(behind))
	if before == "" && behind == "" && pattern == session.UsualNames {
		before = "threeply"
	}
	parts := make([]string, 0, 3)
	for _, part := range []string{before, strings.TrimSuffix(what, ending), behind} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	base := strings.Join(parts, "-")
	name := base + ending
	for n := 2; isScan(name, s.Files()); n++ {
		name = fmt.Sprintf("%s-%d%s", base, n, ending)
	}
	return name
}

// nameOf keeps the letters and digits of a text, in small letters, and joins its words by
// hyphens.
func nameOf(text string) string {
	words := strings.FieldsFunc(strings.ToValidUTF8(text, " "), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !unicode.IsMark(r)
	})
	return cut(strings.ToLower(strings.Join(words, "-")), longestName/2)
}

// tidied makes a part of a pattern fit for a name: signs that discs or shells take for
// something else are hyphens, none doubled, none at its ends.
func tidied(part string) string {
	parts := strings.FieldsFunc(part, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !unicode.IsMark(r) && r != '_' && r != '.'
	})
	return strings.Trim(cut(strings.Join(parts, "-"), longestName), "-._")
}

// cut keeps at most so many bytes of a text, in whole letters.
func cut(text string, most int) string {
	for i := range text {
		if i > most {
			return text[:i]
		}
	}
	return text
}

func isScan(name string, scans []string) bool {
	for _, scan := range scans {
		if strings.EqualFold(name, path.Base(strings.ReplaceAll(scan, `\`, "/"))) {
			return true
		}
	}
	return false
}
