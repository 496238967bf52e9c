package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// rare are packages of which little runs, and seldom: built without inlining, they make
// page.wasm smaller by a fifteenth.
var rare = []string{
	"archive/...", "encoding/...", "fmt", "go/...", "html/...", "internal/buildcfg", "math/big", "os", "regexp/...", "text/...", "time",
	"github.com/hajimehoshi/ebiten/v2/internal/shader/...",
	"threeply/proof/command", "threeply/proof/desk", "threeply/proof/session", "threeply/wasm/page/model",
}

// byName is where the library's text/template looks for a method by a name that it learns
// only as it runs. For this one call the linker keeps every exported method of every type,
// called or not: a tenth of either program. No template of the page calls a method: package
// proof/leaf lets none, and Ebitengine's has none.
const byName, nothing = "ptr.MethodByName(fieldName)", "reflect.ValueOf(nil)"

// overlay writes into a folder what has go build leave that call out, and gives the file for
// its flag -overlay. It is "" where the library of this Go has no such call: the programs
// are then larger, and the same.
func overlay(folder string) (string, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	original := filepath.Join(strings.TrimSpace(string(root)), "src", "text", "template", "exec.go")
	source, err := os.ReadFile(original)
	if err != nil {
		return "", err
	}
	if strings.Count(string(source), byName) != 1 {
		fmt.Println("text/template of this Go is another: the programs are linked with methods that they do not call")
		return "", nil
	}
	lean, list := filepath.Join(folder, "exec.go"), filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(lean, []byte(strings.Replace(string(source), byName, nothing, 1)), 0o644); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {original: lean}})
	if err != nil {
		return "", err
	}
	return list, os.WriteFile(list, text, 0o644)
}
