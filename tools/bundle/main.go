// Bundle builds the page as a folder of static files.
//
//	go run ./tools/bundle [-o .build/site]
//	go run ./tools/bundle -demo
//
// The folder holds the page of web/, page.wasm and worker.wasm, the script that
// starts Go programs in a browser, and the demo plates. What packs well also lies
// there packed, as NAME.gz. It fails where a program grows beyond its budget.
// With -demo it makes the demo plates of testdata/demo anew instead.
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"threeply/tools/site"
	"threeply/tools/version"
)

// budget is the largest page.wasm.gz and worker.wasm.gz that is let through, in bytes: 3.5 MB.
const budget = 3_500_000

// packed lists the kinds of file that are worth packing.
var packed = []string{".html", ".css", ".js", ".json", ".csv", ".svg", ".wasm"}

func main() {
	out := flag.String("o", ".build/site", "folder to build into")
	plates := flag.Bool("demo", false, "only make the demo plates of "+demoKept+" anew, after a change to the program that draws them")
	flag.Parse()
	do := func() error { return bundle(*out) }
	if *plates {
		do = keepDemo
	}
	if err := do(); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}

func bundle(out string) error {
	if _, err := os.Stat("go.mod"); err != nil {
		return fmt.Errorf("run it from the top of the checkout: %w", err)
	}
	if err := clear(out); err != nil {
		return err
	}
	if err := writePage(out, "web"); err != nil {
		return err
	}
	if err := compileAll(out); err != nil {
		return err
	}
	if err := copyStarter(filepath.Join(out, "wasm_exec.js")); err != nil {
		return err
	}
	if err := demo(filepath.Join(out, "demo")); err != nil {
		return err
	}
	if err := keepOffline(out); err != nil {
		return err
	}
	sizes, err := pack(out)
	if err != nil {
		return err
	}
	return report(out, sizes)
}

// programs are the page's, by the folders that they are built from.
var programs = [...]struct{ file, folder string }{{"page.wasm", "./wasm/page"}, {"worker.wasm", "./wasm/worker"}}

// kept tells whether a file of an earlier build may stay: the programs and what was packed of them,
// which are made anew where anything of them changed.
func kept(name string) bool {
	return slices.ContainsFunc(programs[:], func(p struct{ file, folder string }) bool { return name == p.file || name == p.file+".gz" })
}

// clear empties the folder but for the demo plates, which are slow to make, and what is kept. A
// folder that holds anything but an earlier build is left as it is.
func clear(out string) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		return err
	}
	entries = slices.DeleteFunc(entries, func(entry os.DirEntry) bool { return entry.Name() == "demo" })
	page, _ := os.ReadFile(filepath.Join(out, "index.html"))
	if len(entries) > 0 && !strings.Contains(string(page), "<title>Threeply</title>") {
		return fmt.Errorf("%s holds something other than the built page, and building would empty it; name another folder after -o", out)
	}
	for _, entry := range entries {
		if kept(entry.Name()) {
			continue
		}
		if err := os.RemoveAll(filepath.Join(out, entry.Name())); err != nil {
			return err
		}
	}
	return nil
}

// compileAll builds the page's two programs.
func compileAll(out string) error {
	folder, err := os.MkdirTemp("", "threeply")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	lean, err := overlay(folder)
	if err != nil {
		return err
	}
	defer os.RemoveAll(readyFolder)
	ready, err := readyLibrary(readyFolder)
	if err != nil {
		return err
	}
	for i, flags := range [...][]string{{"-modfile", ready}, nil} {
		if err := compile(filepath.Join(out, programs[i].file), programs[i].folder, lean, flags...); err != nil {
			return err
		}
	}
	return nil
}

// compile builds one program for the browser, without symbols and without paths of this
// machine; it knows its version. lean is what overlay gave; more are further flags of go build.
func compile(out, program, lean string, more ...string) error {
	args := []string{"build", "-trimpath", "-buildvcs=false", "-overlay", lean, "-ldflags", version.Linked(version.Of()), "-o", out}
	for _, pattern := range rare {
		args = append(args, "-gcflags", pattern+"=-l")
	}
	command := exec.Command("go", append(append(args, more...), program)...)
	command.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	return run(command)
}

// copyStarter copies the script of the Go distribution that starts programs in a browser.
func copyStarter(out string) error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env GOROOT: %w", err)
	}
	script, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	return os.WriteFile(out, script, 0o644)
}

// keepOffline makes the service worker, which lies at the top of the site: none rules over
// what lies above it.
func keepOffline(out string) error {
	written := filepath.Join(out, "start", "offline.js")
	worker, err := os.ReadFile(written)
	if err != nil {
		return err
	}
	if err := os.Remove(written); err != nil {
		return err
	}
	script, err := site.Offline(os.DirFS(out), worker)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "offline.js"), script, 0o644)
}

// pack writes NAME.gz beside every file that packs well; the result is the packed size of each.
func pack(out string) (map[string]int64, error) {
	sizes := map[string]int64{}
	err := filepath.WalkDir(out, func(name string, entry os.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !slices.Contains(packed, filepath.Ext(name)) {
			return err
		}
		size, err := packFile(name)
		sizes[name] = size
		return err
	})
	return sizes, err
}

func packFile(name string) (int64, error) {
	if size, ok := packedBefore(name); ok {
		return size, nil
	}
	in, err := os.Open(name)
	if err != nil {
		return 0, err
	}
	defer in.Close()
	out, err := os.Create(name + ".gz")
	if err != nil {
		return 0, err
	}
	defer out.Close()
	writer, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil {
		return 0, err
	}
	if _, err := io.Copy(writer, in); err != nil {
		return 0, err
	}
	if err := writer.Close(); err != nil {
		return 0, err
	}
	info, err := out.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), out.Close()
}

// packedBefore tells whether a file lies beside its packed form already, and the size of that.
func packedBefore(name string) (size int64, ok bool) {
	packed, err := os.ReadFile(name + ".gz")
	if err != nil {
		return 0, false
	}
	reader, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return 0, false
	}
	before, err := io.ReadAll(reader)
	if err != nil {
		return 0, false
	}
	now, err := os.ReadFile(name)
	return int64(len(packed)), err == nil && bytes.Equal(before, now)
}

// report prints what a browser has to fetch and holds the programs to their budget.
func report(out string, sizes map[string]int64) error {
	page, worker := filepath.Join(out, "page.wasm"), filepath.Join(out, "worker.wasm")
	var rest int64
	for name, size := range sizes {
		if name != page && name != worker {
			rest += size
		}
	}
	fmt.Printf("%s: page.wasm %.2f MB gzip, worker.wasm %.2f MB gzip (budget of each %.1f), page files %.3f MB gzip\n",
		out, float64(sizes[page])/1e6, float64(sizes[worker])/1e6, budget/1e6, float64(rest)/1e6)
	for _, program := range []string{page, worker} {
		if sizes[program] > budget {
			return fmt.Errorf("%s.gz has %d bytes, the budget is %d", program, sizes[program], budget)
		}
	}
	return nil
}

// run runs a command whose words the user should see.
func run(command *exec.Cmd) error {
	command.Stdout, command.Stderr = os.Stdout, os.Stderr
	if err := command.Run(); err != nil {
		return fmt.Errorf("%s: %w", strings.Join(command.Args, " "), err)
	}
	return nil
}
