package browsertest

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/websocket"
)

// fox is a headless Firefox with one window, driven by WebDriver BiDi (W3C, working draft).
type fox struct {
	t      *testing.T
	socket *websocket.Conn
	window string // its browsing context
	last   int    // number of the last command
	saved  string // folder for what the page saves

	asked    []string // addresses that the page asked for
	problems []string // errors on the console
}

// foxOrigin is the origin that its remote control is told to take commands from.
const foxOrigin = "http://localhost"

// foxSettings spare time: one process for pages, and no second compilation of programs of which
// none runs for long. What is saved goes to a folder without a question.
const foxSettings = `user_pref("dom.ipc.processCount", 1);
user_pref("dom.ipc.processPrelaunch.enabled", false);
user_pref("javascript.options.wasm_optimizingjit", false);
user_pref("browser.download.folderList", 2);
user_pref("browser.download.dir", %q);
`

// openFox starts Firefox with a profile of its own, which ends with the test.
func openFox(t *testing.T) *fox {
	t.Helper()
	program, err := exec.LookPath("firefox-esr")
	if err != nil {
		program, err = exec.LookPath("firefox")
	}
	if err != nil {
		t.Skip("SKIPPED: Firefox is not here (apt-get install firefox-esr)")
	}
	f := &fox{t: t, saved: t.TempDir()}
	profile := t.TempDir()
	if err := os.WriteFile(filepath.Join(profile, "user.js"), fmt.Appendf(nil, foxSettings, f.saved), 0o600); err != nil {
		t.Fatal(err)
	}
	command := exec.Command(program, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0", "--remote-allow-origins", foxOrigin,
		"--width", fmt.Sprint(windowWidth), "--height", fmt.Sprint(windowHeight), "about:blank")
	says, err := command.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	t.Cleanup(func() {
		if f.socket != nil {
			f.send("browser.close", map[string]any{})
		}
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			command.Process.Kill()
			<-ended
		}
		if f.socket != nil {
			f.socket.Close()
		}
	})
	address := make(chan string, 1)
	go func() {
		listens := regexp.MustCompile(`WebDriver BiDi listening on (ws://\S+)`)
		for lines := bufio.NewScanner(says); lines.Scan(); {
			if found := listens.FindStringSubmatch(lines.Text()); found != nil {
				address <- found[1]
			}
		}
		err := command.Wait()
		used := command.ProcessState
		t.Logf("Firefox took %.1f s of processor time", (used.UserTime() + used.SystemTime()).Seconds())
		ended <- err
	}()
	select {
	case to := <-address:
		if f.socket, err = websocket.Dial(to+"/session", "", foxOrigin); err != nil {
			t.Fatal(err)
		}
	case <-time.After(patience):
		command.Process.Kill()
		t.Fatal("Firefox does not listen")
	}
	f.do("session.new", map[string]any{"capabilities": map[string]any{}}, nil)
	f.do("session.subscribe", map[string]any{"events": []string{"log.entryAdded", "network.beforeRequestSent"}}, nil)
	var tree struct{ Contexts []struct{ Context string } }
	f.do("browsingContext.getTree", map[string]any{}, &tree)
	f.window = tree.Contexts[0].Context
	return f
}

func (f *fox) send(method string, params map[string]any) {
	f.t.Helper()
	f.last++
	f.socket.SetDeadline(time.Now().Add(patience))
	if err := websocket.JSON.Send(f.socket, map[string]any{"id": f.last, "method": method, "params": params}); err != nil {
		f.t.Fatalf("%s: %v", method, err)
	}
}

// do carries out a command and reads its result; what the browser tells meanwhile is noted.
func (f *fox) do(method string, params map[string]any, result any) {
	f.t.Helper()
	f.send(method, params)
	for {
		var told struct {
			ID      int
			Method  string
			Message string // of an error
			Params  struct {
				Level, Text string
				Request     struct{ URL string }
			}
			Result json.RawMessage
		}
		if err := websocket.JSON.Receive(f.socket, &told); err != nil {
			f.t.Fatalf("%s: %v", method, err)
		}
		switch {
		case told.Method == "network.beforeRequestSent":
			f.asked = append(f.asked, told.Params.Request.URL)
		case told.Method == "log.entryAdded" && told.Params.Level == "error":
			f.problems = append(f.problems, told.Params.Text)
		case told.ID != f.last:
		case told.Message != "":
			f.t.Fatalf("%s: %s", method, told.Message)
		case result != nil:
			if err := json.Unmarshal(told.Result, result); err != nil {
				f.t.Fatalf("%s: %v", method, err)
			}
			return
		default:
			return
		}
	}
}

func (f *fox) goTo(address string) {
	f.t.Helper()
	f.do("browsingContext.navigate", map[string]any{"context": f.window, "url": address, "wait": "interactive"}, nil)
}

// foxValue is what a script gave: a text, or an element by its id.
type foxValue struct {
	Type     string
	Value    json.RawMessage
	SharedID string `json:"sharedId"`
}

// run evaluates JavaScript; a promise is awaited.
func (f *fox) run(script string) foxValue {
	f.t.Helper()
	var got struct {
		Result           foxValue
		ExceptionDetails struct{ Text string }
	}
	f.do("script.evaluate", map[string]any{"expression": script, "target": map[string]any{"context": f.window}, "awaitPromise": true}, &got)
	if got.ExceptionDetails.Text != "" {
		f.t.Fatalf("%s: %s", brief(script), got.ExceptionDetails.Text)
	}
	return got.Result
}

// text evaluates JavaScript that gives a text.
func (f *fox) text(script string) string {
	f.t.Helper()
	var text string
	if err := json.Unmarshal(f.run(script).Value, &text); err != nil {
		f.t.Fatalf("%s: %v", brief(script), err)
	}
	return text
}

// waitFor waits until a JavaScript expression holds, in which v is the page's view.
func (f *fox) waitFor(condition string) {
	f.t.Helper()
	for end := time.Now().Add(patience); f.text(`(() => {
		const v = window.threeply?.view ? JSON.parse(threeply.view()) : null;
		try { return `+condition+` ? "yes" : "no"; } catch { return "no"; }
	})()`) != "yes"; time.Sleep(200 * time.Millisecond) {
		if time.Now().After(end) {
			f.t.Fatalf("after %v still not: %s; the page %s; console: %q", patience, condition, f.text(howPage), f.problems)
		}
	}
}

// choose chooses files of this machine in the dialogue for scans.
func (f *fox) choose(files ...string) {
	f.t.Helper()
	f.run(`threeply.do(JSON.stringify({do: "station", id: "plates"}))`)
	f.waitFor(`document.querySelector("#panel-plates input[type=file]")`)
	input := f.run(`document.querySelector("#panel-plates input[type=file]")`)
	f.do("input.setFiles", map[string]any{"context": f.window, "element": map[string]any{"sharedId": input.SharedID}, "files": files}, nil)
}

// shot is a picture of the window.
func (f *fox) shot() *image.RGBA {
	f.t.Helper()
	var got struct{ Data string }
	f.do("browsingContext.captureScreenshot", map[string]any{"context": f.window}, &got)
	data, err := base64.StdEncoding.DecodeString(got.Data)
	if err != nil {
		f.t.Fatal(err)
	}
	return plain(decodedPNG(f.t, data))
}

// savedPNG is the picture that the page saved. Firefox gives a file its name before all of it
// is there.
func (f *fox) savedPNG() *image.RGBA {
	f.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(100 * time.Millisecond) {
		data, err := os.ReadFile(waitFile(f.t, f.saved, ".png")) // written under a name of its own, and named when whole
		if bytes.Contains(data, []byte("IEND")) {
			return plain(decodedPNG(f.t, data))
		}
		if time.Now().After(end) {
			f.t.Fatalf("no whole picture was saved: %v", err)
		}
	}
}

// TestFirefox takes the main path in Firefox: three plates are chosen and registered, the proof
// stands beside the reference and is saved. Then it opens the page as one file of a disc: the
// demonstration set stands, registered, and nothing is asked of any network. A headless Firefox
// has no WebGL 2: the Go renderer draws, and the page says so.
func TestFirefox(t *testing.T) {
	shared := stand(t)
	shared.fox.take(t)
	f := openFox(t)
	f.goTo(shared.origin() + "/")
	plates := pierPlates(t)
	f.waitFor(`v !== null`)
	f.choose(plates[:]...) // the demonstration set is overtaken
	f.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && v.registered === "auto" && v.idle`)
	f.run(`threeply.do(JSON.stringify({do: "look", id: "beside"}))`)
	f.run(`[...document.querySelectorAll("#messages button")].filter(b => b.textContent === "Dismiss").forEach(b => b.click())`) // they lie over the pictures here
	f.pictures(1200)
	f.run(`threeply.do(JSON.stringify({do: "fill", id: "proof.cut", text: "plates"})); threeply.do(JSON.stringify({do: "station", id: "sheets"}))`)
	f.waitFor(`document.querySelector("#panel-sheets button") !== null`)
	f.run(`[...document.querySelectorAll("#panel-sheets button")].find(b => b.textContent === "Save the proof").click()`)
	if saved := f.savedPNG(); saved.Rect.Size() != image.Pt(320, 240) || colours(saved, saved.Rect) < 2000 {
		t.Errorf("the saved proof is %v and has %d colours", saved.Rect, colours(saved, saved.Rect))
	}
	f.waitFor(idle)
	f.waitFor(leftToSee) // then the page asks for nothing more

	f.asked = nil
	f.goTo("file://" + filepath.ToSlash(oneFile(t)))
	f.waitFor(`document.documentElement.dataset.ready === "yes" && v.registered === "auto" && v.idle && v.look === "beside"`) // the first step of a first visit
	if f.text(`document.createElement("canvas").getContext("webgl2") ? "yes" : "no"`) == "no" {
		f.waitFor(`v.messages.some(m => m.text.includes("no WebGL 2"))`)
	}
	f.pictures(5000)
	for _, address := range f.asked {
		if !ofTheDisc(address) {
			t.Errorf("the one file asked for %s", address)
		}
	}
	if len(f.asked) == 0 {
		t.Error("the network was not watched: not even the page was asked for")
	}
	for _, problem := range f.problems {
		t.Errorf("console: %s", problem)
	}
}

// pictures waits until proof and reference stand, with more colours each than a picture that is
// drawn coarsely has.
func (f *fox) pictures(most int) {
	f.t.Helper()
	var few []string
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(200 * time.Millisecond) {
		var v view
		if err := json.Unmarshal([]byte(f.text(`threeply.view()`)), &v); err != nil {
			f.t.Fatal(err)
		}
		picture := f.shot()
		few = nil
		for _, id := range []string{"print", "reference"} {
			frame, ok := v.frame(id)
			if !ok {
				f.t.Fatalf("no frame %q on the stage: %v", id, v.Frames)
			}
			part := image.Rect(int(frame.X), int(frame.Y), int(frame.X+frame.W), int(frame.Y+frame.H)).Intersect(picture.Rect)
			if n := colours(picture, part); n < most {
				few = append(few, fmt.Sprintf("%s shows %d colours", id, n))
			}
		}
		if len(few) == 0 {
			return
		}
	}
	f.t.Fatalf("no pictures: %s", strings.Join(few, ", "))
}
