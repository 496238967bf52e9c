package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// The page's module, and the file that its styles are joined in: a browser that fetches a
// hundred files for a page is as busy with that as with the page's program.
const (
	boot = "start/boot.js"
	look = "page.css"
)

// copied are the files of web/ that a browser reads as they are.
var copied = []string{"start/worker.js", "start/offline.js", "words/*.json"}

var (
	styles = regexp.MustCompile(`(?:<link rel="stylesheet" href="[^"]+">\n)+`)
	named  = regexp.MustCompile(`href="([^"]+)"`)
)

// writePage writes into the folder out what a browser reads of the folder web: the page's text, its
// styles as one file, its module with all that it imports as one script, and the words of
// other languages. It fails where one of them is missing.
func writePage(out, web string) error {
	index, err := os.ReadFile(filepath.Join(web, "index.html"))
	if err != nil {
		return err
	}
	links := styles.FindString(string(index))
	var all strings.Builder
	for _, link := range named.FindAllStringSubmatch(links, -1) {
		text, err := os.ReadFile(filepath.Join(web, filepath.FromSlash(link[1])))
		if err != nil {
			return err
		}
		all.Write(text)
	}
	script, err := joined(filepath.Join(web, filepath.FromSlash(boot)))
	if err != nil {
		return err
	}
	page := strings.Replace(string(index), links, `<link rel="stylesheet" href="`+look+`">`+"\n", 1)
	files := map[string][]byte{"index.html": []byte(page), look: []byte(all.String()), boot: script}
	for _, pattern := range copied {
		names, err := filepath.Glob(filepath.Join(web, filepath.FromSlash(pattern)))
		if err != nil || len(names) == 0 {
			return fmt.Errorf("%s holds no %s", web, pattern)
		}
		for _, name := range names {
			within, err := filepath.Rel(web, name)
			if err != nil {
				return err
			}
			if files[filepath.ToSlash(within)], err = os.ReadFile(name); err != nil {
				return err
			}
		}
	}
	for name, content := range files {
		to := filepath.Join(out, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(to, content, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// joined makes one plain script of a module and all that it imports.
func joined(module string) ([]byte, error) {
	made := api.Build(api.BuildOptions{
		EntryPoints: []string{module}, Bundle: true, Format: api.FormatIIFE,
		Target: api.ES2023, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsNone,
	})
	if len(made.Errors) > 0 {
		return nil, fmt.Errorf("%s: %s", module, made.Errors[0].Text)
	}
	return made.OutputFiles[0].Contents, nil
}
