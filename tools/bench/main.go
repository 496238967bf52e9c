// Bench runs the benchmarks of all packages natively, those of the packages that
// work inside the page as WebAssembly too, and prints one table; then the whole way of sets
// of 6, 24 and 100 megapixels a plate, with the memory that it takes.
//
//	go run ./tools/bench [-time 1s] [PACKAGE...]
//	go run ./tools/bench -way
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// inPage lists the packages whose speed in the browser matters.
var inPage = []string{"./proof/cube", "./proof/balance", "./proof/register", "./proof/render", "./proof/scan", "./proof/fit", "./proof/flatbed", "./wasm/page/app"}

func main() {
	duration := flag.String("time", "1s", "how long each benchmark runs, as go test -benchtime takes it")
	only := flag.Bool("way", false, "only the whole way by the size of the plates")
	flag.Parse()
	do := func() error { return bench(*duration, flag.Args()) }
	if *only {
		do = func() error { return benchWay(*duration) }
	}
	if err := do(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func bench(duration string, packages []string) error {
	wasmPackages, whole := packages, len(packages) == 0
	if whole {
		packages, wasmPackages = []string{"./..."}, existing(inPage)
	}
	arguments := []string{"test", "-p=1", "-timeout", "60m", "-run", "^$", "-bench", ".", "-benchmem", "-benchtime", duration}
	fmt.Println("natively:")
	native, failed := results(exec.Command("go", append(arguments, packages...)...))
	wasm := table{}
	if starter, reason := nodeStarter(); starter == nil {
		fmt.Println("WebAssembly left out:", reason)
	} else if len(wasmPackages) > 0 {
		fmt.Println("\nas WebAssembly, by node:")
		command := exec.Command("go", append(append(arguments, "-exec", "'"+strings.Join(starter, "' '")+"'"), wasmPackages...)...)
		command.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
		var err error
		wasm, err = results(command)
		failed = errors.Join(failed, err)
	}
	fmt.Println()
	native.print(os.Stdout, wasm)
	if whole {
		failed = errors.Join(failed, benchWay(duration))
	}
	return failed
}

// benchWay prints the second table, of the whole way by the size of the plates.
func benchWay(duration string) error {
	fmt.Println("\nthe whole way, natively:")
	native, err := wayOf(duration, nil)
	if err != nil {
		return err
	}
	wasm := table{}
	if starter, _ := nodeStarter(alone + "=yes"); starter != nil {
		fmt.Println("\nthe whole way, as WebAssembly, by node:")
		if wasm, err = wayOf(duration, starter); err != nil {
			return err
		}
	}
	fmt.Println()
	native.printWay(os.Stdout, wasm)
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
// reason why there is none. The environment is emptied, but for what is given, because
// Go's starter has room for a few kilobytes of it only.
func nodeStarter(environment ...string) (starter []string, reason string) {
	if _, err := exec.LookPath("node"); err != nil {
		return nil, "node is not installed"
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, "go env GOROOT fails: " + err.Error()
	}
	script := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	if _, err := os.Stat(script); err != nil {
		return nil, err.Error()
	}
	return append(append([]string{"env", "-i", "PATH=" + os.Getenv("PATH")}, environment...), script), ""
}

// results runs go test, shows what it prints as it comes, and reads the figures: where a benchmark
// fails, those of the others.
func results(command *exec.Cmd) (table, error) {
	var words strings.Builder
	command.Stdout, command.Stderr = io.MultiWriter(&words, os.Stdout), os.Stderr
	err := command.Run()
	if err != nil {
		err = fmt.Errorf("a benchmark fails: %w", err)
	}
	return parse(words.String()), err
}
