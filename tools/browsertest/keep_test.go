package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"threeply/proof/pigment"
)

// The window of tests that hardly look at the pictures: the smallest that has the whole
// page in it.
const smallWidth, smallHeight = 760, 560

// sibling opens an empty tab that shares what the browser keeps with another one.
func (p *page) sibling() *page {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.ctx)
	q := &page{t: p.t, tab: newTab(ctx, cancel)}
	q.own(smallWidth, smallHeight)
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
	answer := eval[string](p, fmt.Sprintf(`import("/start/desk.js").then(desk => JSON.stringify(desk.tell(%s)))`, words))
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

// TestReload works on a set of the user's own, reloads, and finds all as it was: the
// settings, marks, a palette and a paper of the user's own, the steps to undo, the
// station and what register left.
func TestReload(t *testing.T) {
	p := pier(t)
	p.command("palette", map[string]any{"id": "earth"})
	p.reorder()
	p.command("nudge", map[string]any{"printer": "yellow", "dxUm": 350.0, "dyUm": 120.0, "turnDeg": 0.1})
	p.command("pin", map[string]any{"n": 1, "source": 0, "x": 12.5, "y": 20.0})
	tissue := p.tissue(pigment.Magenta)
	tissue.Load = 1.5
	p.command("tissue", map[string]any{"printer": "magenta", "tissue": tissue})
	p.run(`threeply.do(JSON.stringify({do: "takePaper", paper: JSON.parse(threeply.paperOfLab("Oat", 90, 1, 9)).paper}))`)
	if s := p.session(); len(s.OwnPalettes) != 1 || len(s.OwnPapers) != 1 || len(s.Marks) != 1 {
		t.Fatalf("%d own palettes, %d own papers, %d marks", len(s.OwnPalettes), len(s.OwnPapers), len(s.Marks))
	}
	p.command("undo", nil)
	p.command("station", map[string]any{"id": "register"})
	p.waitFor(idle)
	was, text := p.view(), p.sessionText()

	p.reload()
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	is := p.view()
	if got := p.sessionText(); got != text {
		t.Errorf("after a reload the session is\n%s, not\n%s", got, text)
	}
	if is.Undo != was.Undo || is.Redo != was.Redo || is.Redo == "" {
		t.Errorf("after a reload undo is %q for %q, redo %q for %q", is.Undo, was.Undo, is.Redo, was.Redo)
	}
	if is.Station != "register" {
		t.Errorf("after a reload the station is %q", is.Station)
	}
	if !eval[bool](p, `JSON.parse(threeply.view()).left.have`) {
		t.Error("after a reload nothing is known of what register left")
	}
}

// TestDemonstrationSet clicks on the demonstration set amid work, and has the work back
// with one more click.
func TestDemonstrationSet(t *testing.T) {
	p := pier(t)
	p.command("palette", map[string]any{"id": "earth"})
	p.waitFor(idle)
	text := p.sessionText()
	p.command("station", map[string]any{"id": "plates"})
	p.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Demonstration set").click()`)
	p.waitFor(`v.plates.every(q => !q.file.startsWith("pier_")) && ` + idle)
	p.pressMessage("Have it back")
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
	if got := p.sessionText(); got != text {
		t.Errorf("what was had back is\n%s, not\n%s", got, text)
	}
	if v := p.view(); v.Undo != "palette" {
		t.Errorf("undo goes back over %q", v.Undo)
	}
}

// TestTwoTabs opens one set in two tabs: the second has a copy, both work on, and both
// find their own work after a reload. A third has a copy too, though it has no locks.
func TestTwoTabs(t *testing.T) {
	one := pier(t)
	two := one.sibling()
	two.load()
	two.waitFor(`v.messages.some(m => m.text.includes("This is a copy"))`)
	unsafe := one.sibling() // as from an address that is not secure, where the browser has no locks
	unsafe.before(`Object.defineProperty(navigator, "locks", {value: undefined})`)
	unsafe.load()
	unsafe.waitFor(`v.messages.some(m => m.text.includes("This is a copy"))`)
	unsafe.close()
	two.command("palette", map[string]any{"id": "arylide"})
	one.reorder()
	for _, p := range []*page{one, two} {
		p.waitFor(idle)
	}
	texts := []string{one.sessionText(), two.sessionText()}
	if texts[0] == texts[1] {
		t.Fatal("the tabs show the same")
	}
	for i, p := range []*page{one, two} {
		p.reload()
		p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
		if got := p.sessionText(); got != texts[i] {
			t.Errorf("tab %d came back with\n%s, not\n%s", i+1, got, texts[i])
		}
	}
}

// TestKilled kills the tab at random moments of work: nothing that is older than a
// second is lost. Package desk does so more often, in a browser that is played.
func TestKilled(t *testing.T) {
	keeper := openBlank(t, smallWidth, smallHeight) // stays, lest the browser forgets all with its last tab
	p := keeper.sibling()
	p.openPier()
	random := rand.New(rand.NewPCG(10, 7))
	const kills = 3 // each costs a start of the page
	type moment struct {
		at   time.Time
		text string
	}
	orders := []string{"ymc", "ycm", "mcy", "cym", "cmy", "myc"}
	for kill := range kills {
		past := []moment{{time.Now(), p.sessionText()}}
		for range 3 + random.IntN(12) {
			switch random.IntN(5) {
			case 0:
				p.command("undo", nil)
			case 1:
				p.command("nudge", map[string]any{"printer": "cyan", "dxUm": float64(random.IntN(900))})
			case 2:
				p.command("palette", map[string]any{"id": []string{"earth", "arylide", "gamboge"}[random.IntN(3)]})
			default:
				p.command("order", map[string]any{"order": orders[random.IntN(6)]})
			}
			past = append(past, moment{time.Now(), p.sessionText()})
		}
		time.Sleep(time.Duration(random.IntN(400)) * time.Millisecond) // the moment is random, nothing is waited for
		killed := time.Now()
		next := keeper.sibling()
		p.kill()
		p = next
		p.load()
		p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && ` + idle)
		got := p.sessionText()
		newest := slices.IndexFunc(past, func(m moment) bool { return killed.Sub(m.at) <= time.Second })
		if newest < 0 {
			newest = len(past)
		}
		allowed := past[max(newest-1, 0):] // the last that is older than a second, and all later ones
		if !slices.ContainsFunc(allowed, func(m moment) bool { return m.text == got }) {
			t.Fatalf("kill %d: the session that came back is older than a second", kill)
		}
	}
}

// kill ends the process of a tab: none of its code runs any more.
func (p *page) kill() {
	p.t.Helper()
	p.do("the end of the tab", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		ctx, cancel := context.WithTimeout(ctx, time.Second/5) // the dead give no answer
		defer cancel()
		cdp.Call(ctx, target, cdppage.Crash, cdp.Empty{})
		return nil
	}))
	p.close()
}
