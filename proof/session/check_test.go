package session

import (
	"regexp"
	"strings"
	"testing"
)

// What is taken for a SHA-256 is what its published pattern takes.
func TestIsHash(t *testing.T) {
	pattern := regexp.MustCompile(HashPattern)
	whole := strings.Repeat("0123456789abcdef", 4)
	for _, text := range []string{whole, "", whole[1:], whole + "0", strings.ToUpper(whole), "g" + whole[1:], whole[:63] + "\n", whole[:30] + "-" + whole[31:]} {
		if isHash(text) != pattern.MatchString(text) {
			t.Errorf("%q is %v", text, isHash(text))
		}
	}
}
