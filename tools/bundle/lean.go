package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// rare are packages of which little runs, and seldom: built without inlining, they make
// page.wasm smaller by a fifteenth.
var rare = []string{
	"archive/...", "crypto/cipher", "crypto/internal/fips140/aes/...", "crypto/internal/fips140/drbg", "crypto/internal/fips140/hmac", "crypto/internal/fips140/sha3", "crypto/internal/fips140/sha512", "encoding/...", "fmt", "go/...", "html/...", "image/png", "internal/buildcfg", "internal/reflectlite", "math/big", "net/...", "os", "path/...", "regexp/...", "strconv", "strings", "text/...", "time",
	"github.com/hajimehoshi/ebiten/v2/internal/shader/...", "golang.org/x/image/font/...", "golang.org/x/text/...",
	"threeply/proof/archive", "threeply/proof/audit", "threeply/proof/bag", "threeply/proof/catalogue", "threeply/proof/cgats", "threeply/proof/coating", "threeply/proof/columns", "threeply/proof/command", "threeply/proof/desk", "threeply/proof/export", "threeply/proof/film", "threeply/proof/registration", "threeply/proof/strict",
	"threeply/proof/figures", "threeply/proof/fitness", "threeply/proof/inspect", "threeply/proof/intake", "threeply/proof/label", "threeply/proof/leaf", "threeply/proof/lettering", "threeply/proof/negative", "threeply/proof/order", "threeply/proof/origin", "threeply/proof/parcel", "threeply/proof/pigment", "threeply/proof/process", "threeply/proof/report",
	"threeply/proof/review", "threeply/proof/session", "threeply/proof/setter", "threeply/proof/survey", "threeply/proof/testplan", "threeply/proof/table", "threeply/proof/testsheet", "threeply/proof/transfer", "threeply/proof/verdict", "threeply/proof/wedge", "threeply/proof/words",
	"threeply/proof/workshop", "threeply/wasm/page/model", "threeply/wasm/worker",
}

// overlay writes into a folder what has go build leave out every look-up of a method by a name
// that is known only as the program runs, and gives the file for its flag -overlay. For one such
// call in the library's text/template the linker keeps every exported method of every type,
// called or not: a tenth of either program. No template of the page calls a method: package
// proof/leaf lets none, and Ebitengine's has none.
//
// It is "" where the library of this Go has no such call: the programs are then larger, and the
// same. TestOverlay says what is to be done.
func overlay(folder string) (string, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	originals, err := filepath.Glob(filepath.Join(strings.TrimSpace(string(root)), "src", "text", "template", "*.go"))
	if err != nil {
		return "", err
	}
	replaced := map[string]string{}
	for _, original := range originals {
		source, err := os.ReadFile(original)
		if err != nil {
			return "", err
		}
		if strings.HasSuffix(original, "_test.go") {
			continue
		}
		lean, err := nameless(source)
		if err != nil {
			return "", fmt.Errorf("%s: %w", original, err)
		}
		if lean == nil {
			continue
		}
		replaced[original] = filepath.Join(folder, filepath.Base(original))
		if err := os.WriteFile(replaced[original], lean, 0o644); err != nil {
			return "", err
		}
	}
	if len(replaced) == 0 {
		fmt.Println("text/template of this Go is another: the programs are linked with methods that they do not call")
		return "", nil
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": replaced})
	if err != nil {
		return "", err
	}
	list := filepath.Join(folder, "overlay.json")
	return list, os.WriteFile(list, text, 0o644)
}

// nameless is a Go source with each call of a method MethodByName replaced by one that finds no
// method; nil where it has none. What stood in the call is still evaluated.
func nameless(source []byte) ([]byte, error) {
	const found, none = "MethodByName", "func(reflect.Value, string) (none reflect.Value) { return }"
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, "", source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	at := func(p token.Pos) int { return files.Position(p).Offset }
	var out []byte
	done := 0
	ast.Inspect(parsed, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		of, ok := call.Fun.(*ast.SelectorExpr)
		if !ok || of.Sel.Name != found {
			return true
		}
		out = append(out, source[done:at(of.X.Pos())]...)
		out = append(out, none+"("...)
		out = append(out, source[at(of.X.Pos()):at(of.X.End())]...)
		out = append(out, ", "...)
		done = at(call.Lparen) + 1
		return false
	})
	if done == 0 {
		return nil, nil
	}
	return append(out, source[done:]...), nil
}
