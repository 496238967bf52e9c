package site

import (
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"
	"time"
)

var files = fstest.MapFS{
	"index.html":      {Data: []byte("<!doctype html>"), ModTime: time.Unix(1, 0)},
	"page.wasm":       {Data: []byte("\x00asm"), ModTime: time.Unix(2, 0)},
	"page.wasm.gz":    {Data: []byte("packed"), ModTime: time.Unix(3, 0)},
	"demo/red.tif":    {Data: []byte("II*\x00"), ModTime: time.Unix(4, 0)},
	"page/page.js":    {Data: []byte("export {}"), ModTime: time.Unix(5, 0)},
	"demo/truth.json": {Data: []byte("{}"), ModTime: time.Unix(6, 0)},
}

func ask(target string, header map[string]string) *httptest.ResponseRecorder {
	request := httptest.NewRequest(http.MethodGet, target, nil)
	for key, value := range header {
		request.Header.Set(key, value)
	}
	answer := httptest.NewRecorder()
	Handler(files).ServeHTTP(answer, request)
	return answer
}

func TestHandler(t *testing.T) {
	gzip := map[string]string{"Accept-Encoding": "br, gzip"}
	for _, c := range []struct {
		target   string
		header   map[string]string
		status   int
		media    string
		encoding string
		body     string
	}{
		{"/", nil, 200, "text/html; charset=utf-8", "", "<!doctype html>"},
		{"/page.wasm", nil, 200, "application/wasm", "", "\x00asm"},
		{"/page.wasm", gzip, 200, "application/wasm", "gzip", "packed"},
		{"/page.wasm", map[string]string{"Accept-Encoding": "gzip;q=0"}, 200, "application/wasm", "", "\x00asm"},
		{"/page/page.js", gzip, 200, "text/javascript; charset=utf-8", "", "export {}"},
		{"/demo/red.tif", gzip, 200, "image/tiff", "", "II*\x00"},
		{"/demo/", nil, 404, "", "", ""},
		{"/demo", nil, 404, "", "", ""},
		{"/absent.js", gzip, 404, "", "", ""},
		{"/../site.go", nil, 404, "", "", ""},
	} {
		answer := ask(c.target, c.header)
		if answer.Code != c.status {
			t.Errorf("%s: status %d, want %d", c.target, answer.Code, c.status)
			continue
		}
		if got := answer.Header().Get("Content-Encoding"); got != c.encoding {
			t.Errorf("%s: encoding %q, want %q", c.target, got, c.encoding)
		}
		if c.status != http.StatusOK {
			continue
		}
		if got := answer.Header().Get("Content-Type"); got != c.media {
			t.Errorf("%s: type %q, want %q", c.target, got, c.media)
		}
		if got := answer.Body.String(); got != c.body {
			t.Errorf("%s: body %q, want %q", c.target, got, c.body)
		}
		if got := answer.Header().Get("Cache-Control"); got != "no-cache" {
			t.Errorf("%s: Cache-Control %q", c.target, got)
		}
	}
}

func TestHandlerAnswersUnchanged(t *testing.T) {
	first := ask("/page.wasm", nil)
	tag := first.Header().Get("ETag")
	if tag == "" {
		t.Fatal("no ETag")
	}
	again := ask("/page.wasm", map[string]string{"If-None-Match": tag})
	if again.Code != http.StatusNotModified || again.Body.Len() != 0 {
		t.Errorf("status %d with %d bytes, want 304 with none", again.Code, again.Body.Len())
	}
	packed := ask("/page.wasm", map[string]string{"Accept-Encoding": "gzip"})
	if packed.Header().Get("ETag") == tag {
		t.Error("the packed and the plain file share an ETag")
	}
}

func TestHandlerRefusesWriting(t *testing.T) {
	answer := httptest.NewRecorder()
	Handler(files).ServeHTTP(answer, httptest.NewRequest(http.MethodPost, "/", nil))
	if answer.Code != http.StatusMethodNotAllowed {
		t.Errorf("status %d, want 405", answer.Code)
	}
}
