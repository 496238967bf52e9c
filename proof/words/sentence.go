package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence makes a sentence of an error's message: its first letter is raised,
// save where it begins with the name of one of the files and a colon or a
// comma, and it ends with a full stop.
func Sentence(message string, files []string) string {
	if !strings.HasSuffix(message, ".") {
		message += "."
	}
	for _, name := range files {
		if name != "" && (strings.HasPrefix(message, name+":") || strings.HasPrefix(message, name+",")) {
			return message
		}
	}
	first, n := utf8.DecodeRuneInString(message)
	if first == utf8.RuneError {
		return message
	}
	return string(unicode.ToTitle(first)) + message[n:]
}
