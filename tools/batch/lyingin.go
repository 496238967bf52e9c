package batch

import (
	"iter"
	"path/filepath"
	"slices"
	"strings"
)

// LyingIn tells in which folders of out lie scans or sessions that sets name, by the names of
// these folders in lower case: they cannot be made anew without losing what is read.
func LyingIn(out string, all iter.Seq2[Set, error]) map[string]bool {
	folders := map[string]bool{}
	whole := real(out)
	for s, err := range all {
		if err != nil {
			break // is told when the sets are worked on
		}
		for _, file := range append(slices.Clone(s.Files), s.Session, s.Recipe) {
			within, err := filepath.Rel(whole, real(file))
			if first, _, deeper := strings.Cut(filepath.ToSlash(within), "/"); file != "" && err == nil && deeper && first != ".." {
				folders[strings.ToLower(first)] = true
			}
		}
	}
	return folders
}

// real is where a name points to, links followed as far as they can be.
func real(name string) string {
	if whole, err := filepath.Abs(name); err == nil {
		name = whole
	}
	if followed, err := filepath.EvalSymlinks(name); err == nil {
		return followed
	}
	return name
}
