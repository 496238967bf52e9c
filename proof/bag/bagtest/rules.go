// Package bagtest judges bags in tests.
package bagtest

import (
	"crypto/sha256"
	"fmt"
	"regexp"
	"strings"
)

// Faults holds a bag, its files' contents by their paths, to the rules of RFC 8493, read from
// the text of the RFC and not from the code that writes bags: sections 2.1.1 (bagit.txt), 2.1.3 and 2.2.1 (manifests), 2.2.2 (bag-info.txt),
// 3 (complete and valid).
func Faults(bag map[string]string) (out []string) {
	fault := func(says string, of ...any) { out = append(out, fmt.Sprintf(says, of...)) }
	// 2.1.1: exactly two lines, in this order, UTF-8 without a byte-order mark.
	if !regexp.MustCompile(`\ABagIt-Version: \d+\.\d+\r?\nTag-File-Character-Encoding: UTF-8\r?\n?\z`).MatchString(bag["bagit.txt"]) {
		fault("bagit.txt is %q", bag["bagit.txt"])
	}
	line := regexp.MustCompile(`\A([0-9a-fA-F]{64})[ \t]+\*?(.+)\z`)
	decode := strings.NewReplacer("%0A", "\n", "%0a", "\n", "%0D", "\r", "%0d", "\r", "%25", "%")
	manifest := func(name string, wanted func(path string) bool) {
		text, there := bag[name]
		if !there {
			fault("there is no %s", name)
		}
		seen := map[string]bool{}
		for _, l := range strings.Split(strings.TrimRight(text, "\r\n"), "\n") {
			m := line.FindStringSubmatch(strings.TrimSuffix(l, "\r"))
			if m == nil {
				fault("%s has the line %q", name, l)
				continue
			}
			path := decode.Replace(m[2])
			content, there := bag[path]
			switch {
			case !there:
				fault("%s lists %s, which is not there", name, path)
			case seen[path]:
				fault("%s lists %s twice", name, path)
			case !wanted(path):
				fault("%s lists %s, which does not belong there", name, path)
			case fmt.Sprintf("%x", sha256.Sum256([]byte(content))) != strings.ToLower(m[1]):
				fault("%s has another content than %s says", path, name)
			}
			seen[path] = true
		}
		for path := range bag {
			if wanted(path) && !seen[path] {
				fault("%s does not list %s", name, path)
			}
		}
	}
	payload := func(path string) bool { return strings.HasPrefix(path, "data/") }
	manifest("manifest-sha256.txt", payload)
	manifest("tagmanifest-sha256.txt", func(path string) bool { return !payload(path) && !strings.HasPrefix(path, "tagmanifest-") })
	// 2.2.2: a label, a colon, a blank, a value; a value goes on only on indented lines.
	size, files := 0, 0
	for path, content := range bag {
		if payload(path) {
			size, files = size+len(content), files+1
		}
	}
	oxum := ""
	for _, l := range strings.Split(strings.TrimRight(bag["bag-info.txt"], "\n"), "\n") {
		label, says, ok := strings.Cut(l, ": ")
		if !ok || strings.TrimSpace(label) != label {
			fault("bag-info.txt has the line %q", l)
		}
		if label == "Payload-Oxum" {
			oxum = says
		}
		if label == "Bagging-Date" && !regexp.MustCompile(`\A\d{4}-\d\d-\d\d\z`).MatchString(says) {
			fault("bagged at %q", says)
		}
	}
	if oxum != fmt.Sprintf("%d.%d", size, files) {
		fault("Payload-Oxum %q of %d bytes in %d files", oxum, size, files)
	}
	return out
}
