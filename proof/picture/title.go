package picture

import (
	"path"
	"strings"

	"threeply/proof/plate"
)

// titleOf is what the names of the files share, without their ending; the one
// name of a single file.
func titleOf(set *plate.Set) string {
	stem := func(name string) string { return strings.TrimSuffix(name, path.Ext(name)) }
	title := stem(set.Sources[0].Name)
	for _, s := range set.Sources[1:] {
		for !strings.HasPrefix(stem(s.Name), title) {
			title = title[:len(title)-1]
		}
	}
	title = strings.ToValidUTF8(title, "")
	title = strings.TrimSpace(strings.NewReplacer("_", " ", "-", " ").Replace(title))
	if title == "" {
		return "Untitled"
	}
	return title
}
