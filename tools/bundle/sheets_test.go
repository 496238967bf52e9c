package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestSheetsAreTranslated asks each catalogue for the texts of the pages that leave in the
// language of the page: those of their templates, and the sentences that Go puts into them.
func TestSheetsAreTranslated(t *testing.T) {
	texts := map[string]string{}
	for _, name := range []string{"leaf/*.html", "origin/*", "process/*", "report/*", "review/*", "testplan/*"} {
		files, err := filepath.Glob("../../proof/" + name)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no sources: %v", name, err)
		}
		for _, file := range files {
			switch {
			case strings.HasSuffix(file, ".html"):
				for _, text := range templateTexts(t, file) {
					texts[text] = file
				}
			case strings.HasSuffix(file, ".go") && !strings.HasSuffix(file, "_test.go"):
				for text, at := range sentences(t, file) {
					texts[text] = at
				}
			}
		}
	}
	askCatalogues(t, texts)
}

var (
	value  = regexp.MustCompile(`\{\{(?:joined |index )?[.$][^}]*\}\}|\{\{(?:time|or) [^}]*\}\}`)
	markup = regexp.MustCompile(`\{\{[^}]*\}\}|<[^>]*>`)
	spoken = regexp.MustCompile(` (?:alt|title|aria-label)="((?:\{\{[^}]*\}\}|[^"])*)"`)
)

// templateTexts are the texts of a template, {} for a value.
func templateTexts(t *testing.T, file string) []string {
	t.Helper()
	read, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := value.ReplaceAllString(string(read), "{}")
	texts := markup.Split(text, -1)
	for _, found := range spoken.FindAllStringSubmatch(text, -1) {
		texts = append(texts, markup.Split(found[1], -1)...)
	}
	for i, text := range texts {
		texts[i] = strings.Trim(text, " \n·")
	}
	return texts
}

// sentences are the texts of more than one word in a source, each with its place.
func sentences(t *testing.T, name string) map[string]string {
	t.Helper()
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, name, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Field:
			return false
		case *ast.BinaryExpr:
			if text := literal(n); n.Op == token.ADD && strings.Trim(text, "{}") != "" {
				texts[strings.TrimSpace(text)] = files.Position(n.Pos()).String()
				return false
			}
		case *ast.BasicLit:
			if text := strings.TrimSpace(literal(n)); strings.Contains(text, " ") {
				texts[text] = files.Position(n.Pos()).String()
			}
		}
		return true
	})
	return texts
}
