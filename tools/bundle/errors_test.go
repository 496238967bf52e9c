package main

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

const module = "threeply"

// TestErrorsAreTranslated asks each catalogue for every error text that page and worker can
// say: whole, or in the parts that web/ui/language.js takes it apart into. A text that begins
// with the name of its package is a programmer's mistake, which no user comes to; it stays English.
func TestErrorsAreTranslated(t *testing.T) {
	texts := errorTexts(t, "wasm/page", "wasm/worker")
	if len(texts) < 300 {
		t.Errorf("only %d error texts were found in the sources", len(texts))
	}
	askCatalogues(t, texts)
}

// askCatalogues fails for each text that a catalogue has nothing of, with the text's place.
func askCatalogues(t *testing.T, texts map[string]string) {
	t.Helper()
	names, err := filepath.Glob("../../web/words/*.json")
	if err != nil || len(names) == 0 {
		t.Fatalf("web/words holds %q: %v", names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var words map[string]string
		if err := json.Unmarshal(text, &words); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		forms := map[string]bool{}
		for english := range words {
			forms[anyForm(place.ReplaceAllString(english, "{}"))] = true
		}
		for _, text := range slices.Sorted(maps.Keys(texts)) {
			if !isTranslated(forms, text) {
				t.Errorf("%s: no entry for %q, nor for its parts, of %s", name, text, texts[text])
			}
		}
	}
}

// byHand finds what says that nothing has the name or the number that was given: the controls
// give only what is there, so it answers a command written by hand.
var byHand = regexp.MustCompile(`^(there (is|are) )?no (such )?([\w,]+ )*“?\{\}`)

var joints = []string{". ", " · ", "; ", ": ", ", "}

var (
	number   = regexp.MustCompile(`\d+`)
	anywhere = regexp.MustCompile(`\{\}|L\*|a\*|b\*|ΔE00|SHA-256|°C|µm|\b(?:mm|min|h|F)\b`) // figures, and what is the same in all languages
)

// isTranslated tells whether the forms of a catalogue hold a text, or each of its parts.
func isTranslated(forms map[string]bool, text string) bool {
	rest := strings.Trim(anywhere.ReplaceAllString(text, ""), " ,")
	for _, form := range []string{text, number.ReplaceAllString(text, "{}"), rest, rest + " {}", "{} " + text} {
		if forms[anyForm(form)] {
			return true
		}
	}
	if !strings.ContainsFunc(rest, unicode.IsLetter) {
		return true
	}
	for _, joint := range joints {
		parts := strings.Split(text, joint)
		if joint == ": " {
			parts = strings.SplitN(text, joint, 2)
		}
		if len(parts) > 1 {
			return !slices.ContainsFunc(parts, func(part string) bool { return !isTranslated(forms, part) })
		}
	}
	return false
}

// anyForm is the same for texts that differ in their first letter's case or in a mark at their
// end, which say does not tell apart.
func anyForm(text string) string {
	text = strings.TrimRight(text, ".:")
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToLower(first)) + text[size:]
}

// errorTexts finds the error texts in the sources of packages and of all that these import
// within the module, each with the file and line of one place. {} stands for what varies.
func errorTexts(t *testing.T, packages ...string) map[string]string {
	t.Helper()
	positions := token.NewFileSet()
	sources := sourcesOf(t, positions, packages)
	makers := map[string]bool{"Errorf": true, "New": true}
	lasting := map[string]string{} // texts with a name of their own, by package and name
	for _, file := range sources {
		for _, decl := range file.Decls {
			switch d := decl.(type) {
			case *ast.FuncDecl:
				if makesError(d.Type) {
					makers[d.Name.Name] = true
				}
			case *ast.GenDecl:
				for _, spec := range d.Specs {
					if v, ok := spec.(*ast.ValueSpec); ok && len(v.Values) == len(v.Names) {
						for i, name := range v.Names {
							lasting[file.Name.Name+"."+name.Name] = literal(v.Values[i])
						}
					}
				}
			}
		}
	}
	texts := map[string]string{}
	for _, file := range sources {
		ast.Inspect(file, func(n ast.Node) bool {
			for _, part := range errorParts(n, makers) {
				text := literal(part)
				if name, ok := part.(*ast.Ident); ok {
					text = lasting[file.Name.Name+"."+name.Name]
				}
				if strings.Contains(text, " ") && !strings.HasPrefix(text, file.Name.Name+": ") && !byHand.MatchString(text) {
					texts[text] = positions.Position(part.Pos()).String()
				}
			}
			return true
		})
	}
	return texts
}

// sourcesOf reads packages and all that they import within the module.
func sourcesOf(t *testing.T, positions *token.FileSet, packages []string) (sources []*ast.File) {
	t.Helper()
	known := map[string]bool{}
	for len(packages) > 0 {
		next := packages[0]
		packages = packages[1:]
		if known[next] {
			continue
		}
		known[next] = true
		names, err := filepath.Glob("../../" + next + "/*.go")
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: no sources: %v", next, err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(positions, name, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			sources = append(sources, file)
			for _, spec := range file.Imports {
				path, _ := strconv.Unquote(spec.Path.Value)
				if within, ok := strings.CutPrefix(path, module+"/"); ok {
					packages = append(packages, within)
				}
			}
		}
	}
	return sources
}

// makesError tells whether a function makes an error of a text and what is put into it.
func makesError(f *ast.FuncType) bool {
	if f.Results == nil || len(f.Results.List) != 1 || !isError(f.Results.List[0].Type) || len(f.Params.List) == 0 {
		return false
	}
	_, variadic := f.Params.List[len(f.Params.List)-1].Type.(*ast.Ellipsis)
	return variadic
}

func isError(kind ast.Expr) bool {
	switch kind := kind.(type) {
	case *ast.StarExpr:
		return isError(kind.X)
	case *ast.SelectorExpr:
		return isError(kind.Sel)
	case *ast.Ident:
		return kind.Name == "error" || kind.Name == "Error" || kind.Name == "Fault"
	}
	return false
}

// errorParts are the expressions that the text of an error is made of, if a node makes one.
func errorParts(n ast.Node, makers map[string]bool) []ast.Expr {
	var parts []ast.Expr
	switch n := n.(type) {
	case *ast.CallExpr:
		name := ""
		switch f := n.Fun.(type) {
		case *ast.Ident:
			name = f.Name
		case *ast.SelectorExpr:
			name = f.Sel.Name
		}
		if makers[name] {
			parts = slices.Clone(n.Args)
		}
	case *ast.CompositeLit:
		if n.Type != nil && isError(n.Type) {
			for _, e := range n.Elts {
				if field, ok := e.(*ast.KeyValueExpr); ok {
					e = field.Value
				}
				parts = append(parts, e)
			}
		}
	}
	for i, part := range parts {
		if call, ok := part.(*ast.CallExpr); ok && len(call.Args) > 0 {
			parts[i] = call.Args[0]
		}
	}
	return parts
}

var verb = regexp.MustCompile(`%%|%[-+#0]*(?:\[\d\])?\d*(?:\.\d+)?[a-zA-Z]`)

// literal is the text of an expression, {} for what varies.
func literal(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, _ := strconv.Unquote(e.Value)
			return verb.ReplaceAllStringFunc(text, func(verb string) string {
				if verb == "%%" {
					return "%"
				}
				return "{}"
			})
		}
	case *ast.BinaryExpr:
		return literal(e.X) + literal(e.Y)
	}
	return "{}"
}
