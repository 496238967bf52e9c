package main

import (
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// The library of this Go looks a method up by name where overlay expects it.
func TestOverlay(t *testing.T) {
	list, err := overlay(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if list == "" {
		t.Errorf(`text/template of %s calls no MethodByName any more. Where page.wasm has kept its size, take overlay out of tools/bundle.
Where it has grown by a tenth, find what keeps all methods (go build -ldflags=-dumpdep prints <ReflectMethod> behind it) and have nameless replace that.`, runtime.Version())
	}
}

func TestNameless(t *testing.T) {
	lean, err := nameless([]byte("package p\n\nfunc f(v any) bool {\n\tif m := at(v).Elem().MethodByName(\n\t\tname()); m.IsValid() {\n\t\treturn MethodByName == m\n\t}\n\treturn false\n}\n"))
	if err != nil || !strings.Contains(string(lean), "if m := func(reflect.Value, string) (none reflect.Value) { return }(at(v).Elem(), \n\t\tname()); m.IsValid()") || !strings.Contains(string(lean), "return MethodByName == m") {
		t.Errorf("%v:\n%s", err, lean)
	}
	if lean, err := nameless([]byte("package p\n\n// MethodByName is called nowhere.\nvar MethodByName = 1\n")); err != nil || lean != nil {
		t.Errorf("%v:\n%s", err, lean)
	}
	if _, err := nameless([]byte("no Go")); err == nil {
		t.Error("what is no Go was taken for it")
	}
}

// A program beyond its budget fails the build.
func TestReportHoldsTheBudget(t *testing.T) {
	page, worker := filepath.Join("site", "page.wasm"), filepath.Join("site", "worker.wasm")
	if err := report("site", map[string]int64{page: budget, worker: budget, "site/x.js": 5 * budget}); err != nil {
		t.Error(err)
	}
	for _, program := range []string{page, worker} {
		sizes := map[string]int64{page: 1, worker: 1}
		sizes[program] = budget + 1
		if err := report("site", sizes); err == nil || !strings.Contains(err.Error(), program) {
			t.Errorf("%s is too large: %v", program, err)
		}
	}
}
