package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// below lists, for each folder of web/, the folders whose scripts it may import
// beside its own. A folder of a station imports from no other station.
var below = map[string][]string{
	"ui":       {},
	"print":    {"ui"},
	"stations": {"ui", "print"},
	"page":     {"ui", "print", "stations"},
	"stage":    {"ui"},
	"start":    {"ui", "print", "stations", "page", "stage"},
}

var (
	imports = regexp.MustCompile(`(?m)^(?:import|export)\b[^"]*"(\.[^"]+)";$`)
	links   = regexp.MustCompile(`<(?:link rel="stylesheet" href|script type="module" src)="([^"]+)"`)
)

// folder is the folder of web/ that a script lies in, a station's with its name.
func folder(script string) string {
	parts := strings.Split(script, "/")
	if parts[0] == "stations" {
		return parts[0] + "/" + parts[1]
	}
	return parts[0]
}

// scripts reads what every script of web/ imports, as paths within web/.
func scripts(t *testing.T, web fs.FS) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	err := fs.WalkDir(web, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) != ".js" {
			return err
		}
		text, err := fs.ReadFile(web, name)
		all[name] = []string{}
		for _, found := range imports.FindAllStringSubmatch(string(text), -1) {
			all[name] = append(all[name], path.Join(path.Dir(name), found[1]))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestScriptsImportDownwards(t *testing.T) {
	all := scripts(t, os.DirFS("../../web"))
	if len(all["start/boot.js"]) == 0 || len(all["ui/language.js"]) != 0 {
		t.Fatalf("start/boot.js imports %q, ui/language.js %q: imports are not read", all["start/boot.js"], all["ui/language.js"])
	}
	for script, wanted := range all {
		own := folder(script)
		allowed, known := below[strings.Split(own, "/")[0]]
		if !known {
			t.Errorf("%s lies in no folder of the plan", script)
		}
		for _, other := range wanted {
			if _, there := all[other]; !there {
				t.Errorf("%s imports %s, which is not there", script, other)
			}
			if to := folder(other); to != own && !slices.Contains(allowed, strings.Split(to, "/")[0]) {
				t.Errorf("%s imports %s: %s may import from %q only", script, other, own, allowed)
			}
		}
	}
	for script := range all {
		if circle := walk(all, script, nil); circle != nil {
			t.Errorf("a circle of imports: %s", strings.Join(circle, " → "))
		}
	}
}

// walk follows imports from a script and gives the way round that leads back to it.
func walk(all map[string][]string, script string, way []string) []string {
	if slices.Contains(way, script) {
		if way[0] == script {
			return append(way, script)
		}
		return nil
	}
	way = append(slices.Clip(way), script)
	for _, next := range all[script] {
		if circle := walk(all, next, way); circle != nil {
			return circle
		}
	}
	return nil
}

func TestIndexLinksEveryStyle(t *testing.T) {
	web := os.DirFS("../../web")
	index, err := fs.ReadFile(web, "index.html")
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	for _, link := range links.FindAllStringSubmatch(string(index), -1) {
		linked[link[1]] = true
		if _, err := fs.Stat(web, link[1]); err != nil {
			t.Errorf("index.html links %s: %v", link[1], err)
		}
	}
	err = fs.WalkDir(web, ".", func(name string, entry fs.DirEntry, err error) error {
		if path.Ext(name) == ".css" && !linked[name] {
			t.Errorf("index.html does not link %s", name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestPageIsJoined builds the files of the page: one style and one script stand for all of web/.
func TestPageIsJoined(t *testing.T) {
	out, web := t.TempDir(), "../../web"
	if err := writePage(out, web); err != nil {
		t.Fatal(err)
	}
	var written []string
	err := fs.WalkDir(os.DirFS(out), ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			written = append(written, name)
		}
		return err
	})
	if want := []string{"index.html", "page.css", "start/boot.js", "start/offline.js", "start/worker.js", "words/de.json"}; err != nil || !slices.Equal(written, want) {
		t.Errorf("written %q, %v", written, err)
	}
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	index, look, script := read("index.html"), read("page.css"), read("start/boot.js")
	if n := strings.Count(index, "stylesheet"); n != 1 || !strings.Contains(index, `href="page.css"`) {
		t.Errorf("the page links %d styles", n)
	}
	err = fs.WalkDir(os.DirFS(web), ".", func(name string, entry fs.DirEntry, err error) error {
		text, _ := os.ReadFile(filepath.Join(web, name))
		if path.Ext(name) == ".css" && !strings.Contains(look, string(text)) {
			t.Errorf("%s is not in page.css", name)
		}
		if folder := path.Dir(name); path.Ext(name) == ".js" && folder != "start" && folder != "types" && !strings.Contains(script, "web/"+name) {
			t.Errorf("%s is not in the script", name)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
	if imports.MatchString(script) {
		t.Error("the script imports others")
	}
}

func TestPageThatLacksSomething(t *testing.T) {
	for _, lacks := range []string{"ui/base.css", "ui/dom.js", "start/worker.js", "index.html"} {
		web := t.TempDir()
		if err := os.CopyFS(web, os.DirFS("../../web")); err != nil {
			t.Fatal(err)
		}
		if err := os.Remove(filepath.Join(web, lacks)); err != nil {
			t.Fatal(err)
		}
		if err := writePage(t.TempDir(), web); err == nil {
			t.Errorf("a page without %s was built", lacks)
		}
	}
}
