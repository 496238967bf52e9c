// Bench runs the benchmarks of all packages natively, those of the packages that
// work inside the page as WebAssembly too, and prints one table.
//
//	go run ./tools/bench [-time 1s] [PACKAGE...]
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// inPage lists the packages whose speed in the browser matters.
var inPage = []string{"./proof/cube", "./proof/balance", "./proof/register", "./proof/render"}

func main() {
	duration := flag.String("time", "1s", "how long each benchmark runs, as go test -benchtime takes it")
	flag.Parse()
	if err := bench(*duration, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func bench(duration string, packages []string) error {
	wasmPackages := packages
	if len(packages) == 0 {
		packages, wasmPackages = []string{"./..."}, existing(inPage)
	}
	arguments := []string{"test", "-p=1", "-run", "^$", "-bench", ".", "-benchmem", "-benchtime", duration}
	fmt.Println("natively:")
	native, err := results(exec.Command("go", append(arguments, packages...)...))
	if err != nil {
		return err
	}
	wasm := table{}
	if starter, reason := nodeStarter(); starter == "" {
		fmt.Println("WebAssembly left out:", reason)
	} else if len(wasmPackages) > 0 {
		fmt.Println("\nas WebAssembly, by node:")
		command := exec.Command("go", append(append(arguments, "-exec", starter), wasmPackages...)...)
		command.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
		if wasm, err = results(command); err != nil {
			return err
		}
	}
	fmt.Println()
	native.print(os.Stdout, wasm)
	return nil
}

// existing keeps the folders that are there.
func existing(folders []string) []string {
	var kept []string
	for _, folder := range folders {
		if _, err := os.Stat(folder); err == nil {
			kept = append(kept, folder)
		}
	}
	return kept
}

// nodeStarter is the command that runs a js/wasm program outside a browser, or the
// reason why there is none. The environment is emptied because Go's starter has room
// for a few kilobytes of it only.
func nodeStarter() (starter, reason string) {
	if _, err := exec.LookPath("node"); err != nil {
		return "", "node is not installed"
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", "go env GOROOT fails: " + err.Error()
	}
	script := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	if _, err := os.Stat(script); err != nil {
		return "", err.Error()
	}
	return fmt.Sprintf("env -i 'PATH=%s' '%s'", os.Getenv("PATH"), script), ""
}

// results runs go test, shows what it prints as it comes, and reads the figures.
func results(command *exec.Cmd) (table, error) {
	var words strings.Builder
	command.Stdout, command.Stderr = io.MultiWriter(&words, os.Stdout), os.Stderr
	if err := command.Run(); err != nil {
		return nil, fmt.Errorf("a benchmark fails: %w", err)
	}
	return parse(words.String()), nil
}
