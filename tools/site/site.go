// Package site serves a folder of static files the way the page wants it:
// right types, compressed where the browser accepts it, never stale.
package site

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strings"
)

// types names the media type of every kind of file the page is made of.
// It is fixed here because the system's own table differs between machines,
// and a browser refuses WebAssembly and modules that come under a wrong type.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json",
	".csv":  "text/csv; charset=utf-8",
	".txt":  "text/plain; charset=utf-8",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".jpg":  "image/jpeg",
	".tif":  "image/tiff",
	".wasm": "application/wasm",
}

// Handler serves the files of dir.
//
// Every answer carries an ETag and "no-cache": the browser keeps a copy and asks
// each time whether it still holds. Where NAME.gz lies beside NAME and the browser
// accepts gzip, the compressed file is sent. Folders are not listed; a folder
// answers with its index.html or 404.
func Handler(dir fs.FS) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
			return
		}
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		if name == "" || strings.HasSuffix(r.URL.Path, "/") {
			name = path.Join(name, "index.html")
		}
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("Vary", "Accept-Encoding")
		mediaType, known := types[path.Ext(name)]
		if !known {
			mediaType = "application/octet-stream"
		}
		w.Header().Set("Content-Type", mediaType)
		w.Header().Set("X-Content-Type-Options", "nosniff")

		if acceptsGzip(r) {
			w.Header().Set("Content-Encoding", "gzip")
			if send(w, r, dir, name+".gz") == nil {
				return
			}
			w.Header().Del("Content-Encoding")
		}
		if err := send(w, r, dir, name); err != nil {
			http.NotFound(w, r)
		}
	})
}

// send writes one file, or gives an error and writes nothing.
func send(w http.ResponseWriter, r *http.Request, dir fs.FS, name string) error {
	file, err := dir.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return err
	}
	content, seekable := file.(io.ReadSeeker)
	if info.IsDir() || !seekable {
		return errors.New("site: not a file")
	}
	w.Header().Set("ETag", fmt.Sprintf(`"%x-%x%s"`, info.ModTime().UnixNano(), info.Size(), path.Ext(name)))
	http.ServeContent(w, r, "", info.ModTime(), content)
	return nil
}

// acceptsGzip reports whether the browser takes gzip; "gzip;q=0" refuses it.
func acceptsGzip(r *http.Request) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		coding, quality, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.TrimSpace(coding) != "gzip" {
			continue
		}
		q := strings.ReplaceAll(quality, " ", "")
		return q != "q=0" && q != "q=0.0" && q != "q=0.00" && q != "q=0.000"
	}
	return false
}
