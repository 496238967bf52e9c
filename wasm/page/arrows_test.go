// Package main_test holds the page's packages to their order.
package main_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const root = "threeply/wasm/page"

// below lists for each of the page's packages those of the page that it may use. Every
// one stands above all that it uses.
var below = map[string][]string{
	"":                {"app", "breath", "breath/midway", "bridge", "screen"},
	"bridge":          {"app", "model", "screen", "view"},
	"screen":          {"breath", "prints", "shader", "view", "window"},
	"app":             {"model", "prints", "view"},
	"model":           {"prints", "view"},
	"shader/generate": {"shader", "view"},
	"shader":          {"view"},
	"view":            {},
	"prints":          {},
	"window":          {},
	"breath/midway":   {"breath"},
	"breath":          {},
}

// native are the packages that know neither the browser nor the graphics library.
var native = []string{"app", "model", "prints", "shader", "shader/generate", "view", "window"}

// imports gives what the files of every package of the page import, tests aside.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	err := filepath.WalkDir(".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		from := filepath.ToSlash(filepath.Dir(name))
		if from == "." {
			from = ""
		}
		found[from] = append(found[from], []string{}...)
		for _, i := range file.Imports {
			to, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			found[from] = append(found[from], to)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestArrowsOnlyRunDown(t *testing.T) {
	found := imports(t)
	for from, all := range found {
		allowed, known := below[from]
		if !known {
			t.Errorf("the package %q of the page has no place in the order: give it one in `below`", from)
		}
		for _, to := range all {
			inner, ours := strings.CutPrefix(to, root+"/")
			switch {
			case to == root || ours && !slices.Contains(allowed, inner):
				t.Errorf("%s uses %s, which does not lie below it", path.Join(root, from), to)
			case slices.Contains(native, from) && (to == "syscall/js" || strings.Contains(to, "ebiten")):
				t.Errorf("%s uses %s: it is to be tested without a browser", path.Join(root, from), to)
			}
		}
	}
	for from := range below {
		if _, ok := found[from]; !ok {
			t.Errorf("there is no package %q of the page", from)
		}
	}
}

// The order itself has no circle: whoever is used uses only what is further down.
func TestOrderHasNoCircle(t *testing.T) {
	var visit func(name string, above []string)
	visit = func(name string, above []string) {
		if slices.Contains(above, name) {
			t.Fatalf("a circle: %v", append(above, name))
		}
		for _, to := range below[name] {
			visit(to, append(above, name))
		}
	}
	for name := range below {
		visit(name, nil)
	}
}
