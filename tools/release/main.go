// Release builds what is given away: the command line for each system, the page as a folder
// for a server and as one file, and their checksums. The same commit gives the same bytes,
// wherever it is built by the same Go.
//
//	go run ./tools/release [-o .build/release] [-site .build/site]
//	go run ./tools/release -one .build/threeply.html [-site .build/site]
//
// The page must have been built before. A checkout with changes is refused. With -one only
// the one file is made, of any checkout.
package main

import (
	"archive/zip"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"threeply/tools/onefile"
	"threeply/tools/version"
)

// systems are those that the command line is built for, with the processor.
var systems = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

func main() {
	out := flag.String("o", ".build/release", "folder to build into; what an earlier release left there is removed")
	site := flag.String("site", ".build/site", "folder with the built page")
	one := flag.String("one", "", "only make the page as one file, here")
	changed := flag.Bool("changed", false, "build a checkout with changes too, to try it")
	flag.Parse()
	do := func() error { return release(*out, *site, *changed) }
	if *one != "" {
		do = func() error { return oneFile(*one, *site) }
	}
	if err := do(); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func release(out, site string, changed bool) error {
	v := version.Of()
	switch {
	case v == "":
		return fmt.Errorf("git does not know the version; run it in a checkout")
	case strings.HasSuffix(v, version.Changed) && !changed:
		return fmt.Errorf("the checkout holds changes; commit them first, or try it with -changed")
	}
	if _, err := os.Stat(filepath.Join(site, "page.wasm")); err != nil {
		return fmt.Errorf("the page is not built: %w", err)
	}
	if err := empty(out); err != nil {
		return err
	}
	for _, system := range systems {
		name := filepath.Join(out, programName(v, system))
		if err := build(".", name, system, v); err != nil {
			return err
		}
	}
	if err := pack(filepath.Join(out, "threeply-"+v+"-page.zip"), os.DirFS(site)); err != nil {
		return err
	}
	if err := oneFile(filepath.Join(out, "threeply-"+v+".html"), site); err != nil {
		return err
	}
	if err := sums(out); err != nil {
		return err
	}
	fmt.Printf("%s: version %s\n", out, v)
	return nil
}

// oneFile writes the page as one file.
func oneFile(to, site string) error {
	page, err := onefile.Of(site)
	if err != nil {
		return fmt.Errorf("the page as one file: %w (is the page built?)", err)
	}
	if err := os.WriteFile(to, page, 0o644); err != nil {
		return err
	}
	fmt.Printf("%s: %.1f MB\n", to, float64(len(page))/1e6)
	return nil
}

// empty makes the folder, without files of an earlier release. Anything else in it stops
// the work.
func empty(out string) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if name := entry.Name(); entry.IsDir() || name != sumsName && !strings.HasPrefix(name, "threeply-") {
			return fmt.Errorf("%s holds %s, which is no part of a release; name another folder after -o", out, name)
		}
	}
	for _, entry := range entries {
		if err := os.Remove(filepath.Join(out, entry.Name())); err != nil {
			return err
		}
	}
	return nil
}

func programName(version, system string) string {
	name := "threeply-" + version + "-" + strings.ReplaceAll(system, "/", "-")
	if strings.HasPrefix(system, "windows/") {
		name += ".exe"
	}
	return name
}

// build builds the command line of a checkout for a system.
func build(checkout, to, system, v string) error {
	goos, goarch, _ := strings.Cut(system, "/")
	to, err := filepath.Abs(to)
	if err != nil {
		return err
	}
	c := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags", version.Linked(v), "-o", to, "./tools/threeply")
	c.Dir = checkout
	c.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0", "GOAMD64=v1", "GOARM64=v8.0")
	if words, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %s", system, err, words)
	}
	return nil
}

// pack puts the files of a folder into a ZIP, in the order of their names and with one time
// for all.
func pack(to string, folder fs.FS) error {
	f, err := os.Create(to)
	if err != nil {
		return err
	}
	defer f.Close()
	z := zip.NewWriter(f)
	err = fs.WalkDir(folder, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		in, err := folder.Open(name)
		if err != nil {
			return err
		}
		defer in.Close()
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return err
		}
		_, err = io.Copy(w, in)
		return err
	})
	if err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	return f.Close()
}

const sumsName = "SHA256SUMS"

// sums writes the SHA-256 of all files of a folder, as “sha256sum -c” reads them.
func sums(folder string) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	var names []string
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	slices.Sort(names)
	var text strings.Builder
	for _, name := range names {
		f, err := os.Open(filepath.Join(folder, name))
		if err != nil {
			return err
		}
		h := sha256.New()
		_, err = io.Copy(h, f)
		f.Close()
		if err != nil {
			return err
		}
		fmt.Fprintf(&text, "%x  %s\n", h.Sum(nil), name)
	}
	return os.WriteFile(filepath.Join(folder, sumsName), []byte(text.String()), 0o644)
}
