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

// demo makes the demo plates in out, unless they stand there already, made by the
// code as it is now. A digest of that code lies beside the folder, in NAME.sum.
func demo(out string) error {
	digest, err := codeDigest(demoProgram)
	if err != nil {
		return err
	}
	stamp := filepath.Join(filepath.Dir(filepath.Dir(out)), filepath.Base(out)+".sum")
	made, err := os.ReadFile(stamp)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if _, err := os.Stat(out); err == nil && string(made) == digest {
		return nil
	}
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	fmt.Println("making the demo plates")
	if err := run(exec.Command("go", "run", demoProgram, "-o", out)); err != nil {
		return err
	}
	return os.WriteFile(stamp, []byte(digest), 0o644)
}

// codeDigest digests every source file of this module that the program is made of,
// embedded files included, and go.sum for the rest.
func codeDigest(program string) (string, error) {
	const format = `{{if not .Standard}}{{if .Module.Main}}{{$dir := .Dir}}{{range .GoFiles}}{{$dir}}/{{.}}
{{end}}{{range .EmbedFiles}}{{$dir}}/{{.}}
{{end}}{{end}}{{end}}`
	command := exec.Command("go", "list", "-deps", "-f", format, program)
	command.Stderr = os.Stderr
	list, err := command.Output()
	if err != nil {
		return "", fmt.Errorf("go list %s: %w", program, err)
	}
	sum := sha256.New()
	sources := append(strings.Split(strings.TrimSpace(string(list)), "\n"), "go.sum")
	for _, name := range sources {
		if name == "" {
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
