package browsertest

import (
	"context"
	"flag"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"threeply/tools/site"
)

// siteDir and sharedDir are seen from this package's folder, where go test runs.
const (
	siteDir   = "../../.build/site"
	sharedDir = "../../../shared"
)

// chromiumFlags make a headless browser that draws WebGL in software and fetches
// nothing of its own accord.
var chromiumFlags = []chromedp.ExecAllocatorOption{
	chromedp.NoFirstRun,
	chromedp.NoDefaultBrowserCheck,
	chromedp.Headless,
	chromedp.NoSandbox,
	chromedp.Flag("use-gl", "angle"),
	chromedp.Flag("use-angle", "swiftshader"),
	chromedp.Flag("enable-unsafe-swiftshader", true),
	chromedp.Flag("disable-quic", true),
	chromedp.Flag("disable-background-networking", true),
	chromedp.Flag("disable-component-update", true),
	chromedp.Flag("disable-sync", true),
	chromedp.Flag("disable-extensions", true),
	// the lists under the address line, pages of their own in every window, which nobody sees
	chromedp.Flag("disable-features", "WebUIOmniboxPopup,WebUIOmniboxAimPopup"),
	chromedp.Flag("disable-dev-shm-usage", true),
	chromedp.Flag("disable-backgrounding-occluded-windows", true),
	chromedp.Flag("disable-renderer-backgrounding", true),
	chromedp.Flag("force-color-profile", "srgb"),
}

// quickFlags spare the tests time. What is measured of the page's speed is measured without
// them, as a user's browser is: with THREEPLY_ORDINARY=1.
var quickFlags = []chromedp.ExecAllocatorOption{
	// the page around the pictures is put together without the stand-in for a graphics card
	chromedp.Flag("disable-gpu-compositing", true),
	// no page lives long enough here to gain by what optimising costs, and no function that is
	// not called need be validated
	chromedp.Flag("js-flags", "--wasm-tiering-budget=1000000000 --wasm-lazy-validation"),
}

// bench is what all tests share: one browser, in which they go two ways beside each other,
// and servers of the built page. Each server is an origin of its own, so that what pages
// of one origin keep is nothing to another's.
type bench struct {
	browser context.Context
	demo    lane // of the tests that share the page with the demonstration set
	rest    lane
	fox     lane   // of another browser, beside both
	folder  string // for files that outlast a test
	err     error
	stop    func()

	mu      sync.Mutex
	servers []*httptest.Server
}

// lane is a way for tests that come one after the other, in the order in which they are
// written, and beside those of the other lane. It has a profile of the browser, which a
// blank tab keeps, so that each lane has its downloads to itself.
type lane struct {
	profile context.Context
	last    chan struct{} // closed once the test that came last is done
	test    testing.TB    // that has its turn
}

// take waits for the test's turn and keeps it until the test's end. Tests get in line while
// the first part of each is run, up to here, and none is beside it; whoever has its turn may
// ask again.
func (l *lane) take(t testing.TB) {
	if l.test == t {
		return
	}
	before, done := l.last, make(chan struct{})
	l.last = done
	if side, ok := t.(interface{ Parallel() }); ok {
		side.Parallel()
	}
	if before != nil {
		<-before
	}
	l.test = t
	began := time.Now()
	t.Cleanup(func() {
		t.Logf("took %.1f s", time.Since(began).Seconds())
		close(done)
	})
}

// start starts browser and server once; TestMain stops them.
var start = sync.OnceValue(func() *bench {
	shared := &bench{stop: func() {}}
	program, err := chromium()
	if err != nil {
		shared.err = err
		return shared
	}
	flags := append(chromiumFlags, chromedp.ExecPath(program))
	aside := []chromedp.ContextOption{chromedp.WithNewBrowserContext()}
	if os.Getenv("THREEPLY_ORDINARY") == "" {
		flags = append(flags, quickFlags...)
	} else {
		aside = nil // the browser's own profile: only in that it keeps compiled programs
	}
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), flags...)
	browser, stopBrowser := chromedp.NewContext(allocator)
	shared.browser = browser
	shared.folder, shared.err = os.MkdirTemp("", "threeply")
	shared.stop = func() {
		stopBrowser()
		stopAllocator()
		for _, server := range shared.servers {
			server.Close()
		}
		os.RemoveAll(shared.folder)
	}
	if shared.err != nil {
		return shared
	}
	if shared.err = chromedp.Do(browser); shared.err != nil {
		return shared
	}
	for _, l := range []*lane{&shared.demo, &shared.rest} {
		l.profile, _ = chromedp.NewContext(browser, aside...)
		if shared.err = chromedp.Do(l.profile); shared.err != nil {
			break
		}
	}
	return shared
})

// origin is the address of a server that no other page was loaded from.
func (b *bench) origin() string {
	server := httptest.NewServer(site.Handler(os.DirFS(siteDir)))
	b.mu.Lock()
	defer b.mu.Unlock()
	b.servers = append(b.servers, server)
	return server.URL
}

var started bool

func TestMain(m *testing.M) {
	flag.Parse()
	if err := flag.Set("test.parallel", "1000"); err != nil { // lanes say how many run at a time
		panic(err)
	}
	code := m.Run()
	if started {
		start().stop()
	}
	os.Exit(code)
}

// chromium finds the browser's program.
func chromium() (string, error) {
	var last error
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		program, err := exec.LookPath(name)
		if err == nil {
			return program, nil
		}
		last = err
	}
	return "", last
}

// stand gives the shared browser and server, or skips where browser tests are not wanted.
func stand(t testing.TB) *bench {
	t.Helper()
	if os.Getenv("THREEPLY_BROWSER") == "" {
		t.Skip("SKIPPED: browser tests run by `make browser` (THREEPLY_BROWSER is not set)")
	}
	if _, err := os.Stat(filepath.Join(siteDir, "page.wasm")); err != nil {
		t.Fatalf("the page is not built, run `make build`: %v", err)
	}
	started = true
	shared := start()
	if shared.err != nil {
		t.Fatalf("Chromium does not start, install it so that `chromium` is on the PATH: %v", shared.err)
	}
	return shared
}

// sharedFile is a file of the folder of real plates beside the checkout; the test is
// skipped where that folder is missing.
func sharedFile(t *testing.T, parts ...string) string {
	t.Helper()
	name, err := filepath.Abs(filepath.Join(append([]string{sharedDir}, parts...)...))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(name); err != nil {
		t.Skipf("SKIPPED: the real plates are not here: %v", err)
	}
	return name
}
