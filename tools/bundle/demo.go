package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// demoProgram makes the demo plates. They depend on its code and nothing else.
const demoProgram = "./tools/demo"

// demoKept is where the set lies in the checkout, so that a first build need not wait
// for it. The digest of the code that made it lies there too, as sumName.
const (
	demoKept = "testdata/demo"
	sumName  = "code.sum"
)

// demo puts the demo plates into out, unless they stand there already, made by the code
// as it is now: those of the checkout where that code made them, else new ones. The
// digest of the code lies beside the folder, in NAME.sum.
func demo(out string) error {
	digest, err := codeDigest(demoProgram)
	if err != nil {
		return err
	}
	stamp := filepath.Join(filepath.Dir(filepath.Dir(out)), filepath.Base(out)+".sum")
	made, err := digestIn(stamp)
	if err != nil {
		return err
	}
	if _, err := os.Stat(out); err == nil && made == digest {
		return nil
	}
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	kept, err := digestIn(filepath.Join(demoKept, sumName))
	if err != nil {
		return err
	}
	if kept == digest {
		err = os.CopyFS(out, os.DirFS(demoKept))
		if err == nil {
			err = os.Remove(filepath.Join(out, sumName))
		}
	} else {
		fmt.Println(demoKept + " is of other code than " + demoProgram + " is now: `make demo` brings it up to date")
		err = render(out)
	}
	if err != nil {
		return err
	}
	return os.WriteFile(stamp, []byte(digest), 0o644)
}

// keepDemo makes the demo plates of the checkout anew, with the digest of their code.
func keepDemo() error {
	digest, err := codeDigest(demoProgram)
	if err != nil {
		return err
	}
	made := demoKept + ".new" // the program writes over nothing
	if err := os.RemoveAll(made); err != nil {
		return err
	}
	if err := render(made); err != nil {
		return err
	}
	if err := os.RemoveAll(demoKept); err != nil {
		return err
	}
	if err := os.Rename(made, demoKept); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(demoKept, sumName), []byte(digest), 0o644)
}

// render runs the program that draws the plates.
func render(out string) error {
	fmt.Println("making the demo plates, which takes a minute or two")
	return run(exec.Command("go", "run", demoProgram, "-o", out))
}

// digestIn reads a digest that was kept, "" where there is none.
func digestIn(name string) (string, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	return string(text), err
}

// codeDigest digests every source file of this module that the program is made of,
// embedded files included, and the versions of the modules that it uses.
func codeDigest(program string) (string, error) {
	const format = `{{if not .Standard}}{{if .Module.Main}}{{$dir := .Dir}}{{range .GoFiles}}{{$dir}}/{{.}}
{{end}}{{range .EmbedFiles}}{{$dir}}/{{.}}
{{end}}{{else}}{{.Module}}
{{end}}{{end}}`
	command := exec.Command("go", "list", "-deps", "-f", format, program)
	command.Stderr = os.Stderr
	list, err := command.Output()
	if err != nil {
		return "", fmt.Errorf("go list %s: %w", program, err)
	}
	sum := sha256.New()
	for name := range strings.Lines(string(list)) {
		name = strings.TrimSpace(name)
		if name == "" {
			continue
		}
		if !filepath.IsAbs(name) {
			fmt.Fprintln(sum, name)
			continue
		}
		file, err := os.Open(name)
		if err != nil {
			return "", err
		}
		_, err = io.Copy(sum, file)
		file.Close()
		if err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("%x\n", sum.Sum(nil)), nil
}
