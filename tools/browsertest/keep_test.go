package browsertest

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"threeply/proof/pigment"
)

// sibling opens an empty tab that shares what the browser keeps for this page.
func (p *page) sibling() *page {
	p.t.Helper()
	q := &page{t: p.t, tab: newTab(&start().rest, p.address)}
	q.own(windowWidth, windowHeight)
	return q
}

// load goes to the page and waits until it stands and nothing is under way.
func (p *page) load() {
	p.t.Helper()
	p.navigate()
	p.waitReady()
	p.waitFor(idle)
}

// idle holds when nothing is being computed, opened or kept.
const idle = `v.idle`

// tell tells the desk something, as the page's controls do.
func (p *page) tell(what string, fields map[string]any) {
	p.t.Helper()
	told := map[string]any{"do": what}
	maps.Copy(told, fields)
	words, err := json.Marshal(told)
	if err != nil {
		p.t.Fatal(err)
	}
	answer := eval[string](p, `threeply.desk(`+quoted(string(words))+`)`)
	var said struct {
		Error string `json:"error"`
	}
	if err := json.Unmarshal([]byte(answer), &said); err != nil || said.Error != "" {
		p.t.Fatalf("%s: %s (%v)", what, answer, err)
	}
}

// reorder puts the layers into another order than they have.
func (p *page) reorder() {
	p.t.Helper()
	order := "cym"
	if p.view().Order == order {
		order = "mcy"
	}
	p.command("order", map[string]any{"order": order})
}

// session is the text of the session as it is.
func (p *page) sessionText() string {
	p.t.Helper()
	return eval[string](p, `threeply.sessionText()`)
}

// openPier opens the page, drops a set of the user's own and waits until it is
// registered and kept. The demonstration set is overtaken before it is read.
func (p *page) openPier() {
	p.t.Helper()
	p.navigate()
	p.waitFor(`v !== null`)
	t := p.t.(*testing.T)
	plates := pierPlates(t)
	p.drop(plates[:]...)
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && v.registered === "auto" && ` + idle)
}

// workOn changes, of a set of the user's own, settings, marks, a palette and a paper of the
// user's own, and the station, and takes one step back; meanwhile the browser's store is
// full for a while.
func (p *page) workOn() {
	p.t.Helper()
	p.refuseStorage()
	p.command("palette", map[string]any{"id": "earth"})
	p.reorder()
	p.command("nudge", map[string]any{"printer": "yellow", "dxUm": 350.0, "dyUm": 120.0, "turnDeg": 0.1})
	p.command("pin", map[string]any{"n": 1, "source": 0, "x": 12.5, "y": 20.0})
	tissue := p.tissue(pigment.Magenta)
	tissue.Load = 1.5
	p.command("tissue", map[string]any{"printer": "magenta", "tissue": tissue})
	p.run(`threeply.do(JSON.stringify({do: "takePaper", paper: JSON.parse(threeply.paperOfLab("Oat", 90, 1, 9)).paper}))`)
	if s := p.session(); len(s.OwnPalettes) != 1 || len(s.OwnPapers) != 1 || len(s.Marks) != 1 {
		p.t.Fatalf("%d own palettes, %d own papers, %d marks", len(s.OwnPalettes), len(s.OwnPapers), len(s.Marks))
	}
	p.command("undo", nil)
	p.command("station", map[string]any{"id": "register"})
}

// refuseStorage has the store refuse a change, and says so to the user, who has it tried
// again.
func (p *page) refuseStorage() {
	p.t.Helper()
	p.waitFor(`v.saved.state === "saved"`)
	p.run(`window.put = IDBObjectStore.prototype.put;
		IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };`)
	p.reorder()
	p.waitFor(`v.saved.state === "refused" && v.messages.some(m => m.text.includes("no room left"))`)
	p.run(`IDBObjectStore.prototype.put = window.put`)
	p.pressMessage("Try again")
	p.waitFor(`v.saved.state === "saved"`)
}

// breakDown has the page's program end in a panic: the page says so, and has itself loaded
// again.
func (p *page) breakDown() {
	p.t.Helper()
	p.run(`try { threeply.do(); } catch { /* as whoever called it */ }`) // a command is missing: its place in the arguments panics
	p.pressMessage("Load the page again")
	p.waitFor(`document.documentElement.dataset.ready === "yes"`)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.problems = slices.DeleteFunc(p.problems, func(problem string) bool { // of what was still to be called of it
		return strings.Contains(problem, "Go program has already exited")
	})
}

// TestDemonstrationSet clicks on the demonstration set amid work, and has the work back
// with one more click. What is being typed when the other set opens is none of its texts.
func TestDemonstrationSet(t *testing.T) {
	p := pier(t)
	p.command("palette", map[string]any{"id": "earth"})
	p.waitFor(idle)
	text := p.sessionText()
	p.command("station", map[string]any{"id": "plates"})
	p.run(`(() => {
		const title = document.getElementById("title");
		title.focus();
		const typing = setInterval(() => {
			if (!JSON.parse(threeply.view()).plates[0]?.file.startsWith("pier_")) return clearInterval(typing);
			title.value += "a";
			title.dispatchEvent(new Event("input", {bubbles: true}));
		}, 100);
		[...document.querySelectorAll("button")].find(b => b.textContent === "Demonstration set").click();
	})()`)
	p.waitFor(`v.plates.every(q => !q.file.startsWith("pier_")) && ` + idle)
	p.waitFor(`document.getElementById("title").value === v.title && !v.title.includes("aa")`)
	p.command("station", map[string]any{"id": "plates"})
	p.waitFor(`(set => set && [...document.querySelectorAll(".kept-list")].some(list => list.textContent.includes(set.title)))(v.kept.find(set => !set.open))`)
	p.pressMessage("Have it back")
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if got := p.sessionText(); got != text {
		t.Errorf("what was had back is\n%s, not\n%s", got, text)
	}
	if v := p.view(); v.Undo != "palette" {
		t.Errorf("undo goes back over %q", v.Undo)
	}
}

// TestReloadOfTwoTabs opens one set in two tabs: the second has a copy, both work on, and
// both find all as it was after a reload: the work, the steps to undo, the station and what
// register left. The second one's program breaks down before, and says so. A third has a copy
// too, though it has no locks.
func TestReloadOfTwoTabs(t *testing.T) {
	one := pier(t)
	two := one.sibling()
	two.load()
	two.waitFor(`v.messages.some(m => m.text.includes("This is a copy"))`)
	unsafe := one.sibling() // as from an address that is not secure, where the browser has no locks
	unsafe.before(`Object.defineProperty(navigator, "locks", {value: undefined})`)
	unsafe.navigate()
	unsafe.waitFor(`v.messages.some(m => m.text.includes("This is a copy"))`)
	unsafe.close()
	two.command("palette", map[string]any{"id": "gamboge"})
	one.workOn()
	typeTitle := func(words string) {
		two.run(`(() => {
			const title = document.getElementById("title");
			title.focus();
			title.value = ` + quoted(words) + `;
			title.dispatchEvent(new Event("input", {bubbles: true}));
		})()`)
	}
	typeTitle("What is being") // kept though nobody has left the field
	two.waitFor(`v.title === "What is being"`)
	tabs := []*page{one, two}
	var texts []string
	var views []view
	for _, p := range tabs {
		p.waitFor(idle)
		texts, views = append(texts, p.sessionText()), append(views, p.view())
	}
	if texts[0] == texts[1] {
		t.Fatal("the tabs show the same")
	}
	typeTitle("What is being typed") // and what was typed last, by a page that is left
	texts[1] = strings.Replace(texts[1], "What is being", "What is being typed", 1)
	for i, p := range tabs {
		if p == two {
			p.breakDown()
		} else {
			p.reload()
		}
		p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
		if got := p.sessionText(); got != texts[i] {
			t.Errorf("tab %d came back with\n%s, not\n%s", i+1, got, texts[i])
		}
		was, is := views[i], p.view()
		if is.Undo != was.Undo || is.Redo != was.Redo || (is.Redo != "") != (p == one) {
			t.Errorf("tab %d: undo is %q for %q, redo %q for %q", i+1, is.Undo, was.Undo, is.Redo, was.Redo)
		}
		if is.Station != was.Station {
			t.Errorf("tab %d: the station is %q for %q", i+1, is.Station, was.Station)
		}
		if !eval[bool](p, `JSON.parse(threeply.view()).left.have`) {
			t.Errorf("tab %d: nothing is known of what register left", i+1)
		}
	}
	if views[0].Station != "register" {
		t.Errorf("the station was %q", views[0].Station)
	}
}
