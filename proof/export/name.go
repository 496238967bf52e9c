package export

import (
	"fmt"
	"path"
	"strings"
	"unicode"
)

// longestTitle bounds what a file's name takes of a title, in bytes: with the rest
// it stays below the 255 that most discs take for a name.
const longestTitle = 120

// FileName is the name under which a file leaves the tool: the picture's title in
// small letters, then what it is with its ending, such as “proof.png”. It is never
// the name of one of the scans, in whatever case, nor that of their files in
// another folder; a number sets it apart.
func FileName(title, what string, scans []string) string {
	name := fileTitle(title) + "-" + what
	for n := 2; isScan(name, scans); n++ {
		ending := path.Ext(what)
		name = fmt.Sprintf("%s-%s-%d%s", fileTitle(title), strings.TrimSuffix(what, ending), n, ending)
	}
	return name
}

// fileTitle keeps the letters and digits of a title and joins its words by hyphens.
func fileTitle(title string) string {
	words := strings.FieldsFunc(strings.ToValidUTF8(title, " "), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !unicode.IsMark(r)
	})
	name := strings.ToLower(strings.Join(words, "-"))
	for i := range name {
		if i > longestTitle {
			name = name[:i]
			break
		}
	}
	if name == "" {
		return "threeply"
	}
	return name
}

func isScan(name string, scans []string) bool {
	for _, scan := range scans {
		if strings.EqualFold(name, path.Base(strings.ReplaceAll(scan, `\`, "/"))) {
			return true
		}
	}
	return false
}
