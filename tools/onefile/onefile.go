// Package onefile makes one HTML file of the built page: programs, demonstration set, styles
// and scripts are inside. It opens from a disc by a double click and fetches nothing.
package onefile

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
)

var (
	styles  = regexp.MustCompile(`<link rel="stylesheet" href="([^"]+)">\n`)
	scripts = regexp.MustCompile(`<script [^>]*src="[^"]+"></script>\n`)
	policy  = regexp.MustCompile(`(<meta http-equiv="Content-Security-Policy" content=")[^"]+`)
)

// The scripts of the Go distribution, of the page and of its workers, by their paths in the
// site; and the line by which the workers fetch the first of them.
const (
	starter = "wasm_exec.js"
	boot    = "start/boot.js"
	worker  = "start/worker.js"
	fetches = `importScripts("../wasm_exec.js");`
)

// Of makes the file of a folder that tools/bundle has built. It fails where something of
// the page would be missing in it.
func Of(site string) ([]byte, error) {
	r := reader{site: site}
	index := string(r.read("index.html"))
	var look strings.Builder
	for _, link := range styles.FindAllStringSubmatch(index, -1) {
		look.Write(r.read(link[1]))
	}
	start, work, page := string(r.read(starter)), string(r.read(worker)), string(r.read(boot))
	if r.err != nil {
		return nil, r.err
	}
	if !strings.Contains(work, fetches) {
		return nil, fmt.Errorf("%s has no line %s", worker, fetches)
	}

	var body strings.Builder
	fmt.Fprintf(&body, "<script type=\"text/plain\" id=\"part %s\">%s</script>\n", worker, strings.Replace(work, fetches, start, 1))
	for _, name := range []string{"page.wasm", "worker.wasm"} {
		r.put(&body, name)
	}
	for _, folder := range []string{"demo", "words"} {
		names, err := filepath.Glob(filepath.Join(site, folder, "*"))
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			if path.Ext(name) != ".gz" {
				r.put(&body, folder+"/"+filepath.Base(name))
			}
		}
	}
	if r.err != nil {
		return nil, r.err
	}
	fmt.Fprintf(&body, "<script>%s</script>\n<script>%s</script>\n", start, page)

	for _, text := range []string{start, work, page} {
		if strings.Contains(text, "</script") || strings.Contains(text, "<!--") {
			return nil, errors.New("a script holds what would end it in a page")
		}
	}
	own := fmt.Sprintf("default-src 'none'; script-src %s %s 'wasm-unsafe-eval'; style-src %s; img-src data: blob:; worker-src blob:; base-uri 'none'; form-action 'none'",
		digest(start), digest(page), digest(look.String()))
	index = styles.ReplaceAllString(scripts.ReplaceAllString(index, ""), "")
	index = policy.ReplaceAllLiteralString(index, policy.FindStringSubmatch(index)[1]+own)
	index = strings.Replace(index, "</head>", "<style>"+look.String()+"</style>\n</head>", 1)
	return []byte(strings.Replace(index, "</body>", body.String()+"</body>", 1)), nil
}

// digest is a text as a content security policy names it.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// reader reads the files of the site, up to the first that fails.
type reader struct {
	site string
	err  error
}

func (r *reader) read(name string) []byte {
	if r.err != nil {
		return nil
	}
	content, err := os.ReadFile(filepath.Join(r.site, filepath.FromSlash(name)))
	r.err = err
	return content
}

// put writes a part of the page as web/start/parts.js reads it.
func (r *reader) put(out *strings.Builder, name string) {
	content := r.read(name)
	var packed bytes.Buffer
	w, _ := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	w.Write(content) // to memory: neither fails
	w.Close()
	fmt.Fprintf(out, "<script type=\"text/plain\" id=\"part %s\">%s</script>\n", name, base64.StdEncoding.EncodeToString(packed.Bytes()))
}
