package browsertest

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// TestReload works on a set of the user's own, reloads, and finds all as it was.
func TestReload(t *testing.T) {
	p := open(t, 1400, 860)
	p.waitFor(`!v.busy`)
	plates := demoPlates(t)
	p.drop(under(t, plates[0], "pier_red.tif"), under(t, plates[1], "pier_green.tif"), under(t, plates[2], "pier_blue.tif"))
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && v.registered === "auto" && !v.busy`)
	first := p.view()
	other := first.Palettes[len(first.Palettes)-1].ID
	if other == first.palette() {
		other = first.Palettes[0].ID
	}
	p.command("palette", map[string]any{"id": other})
	p.command("order", map[string]any{"order": "cym"})
	p.command("nudge", map[string]any{"printer": "yellow", "dxUm": 350.0, "dyUm": 120.0, "turnDeg": 0.1, "stretchPct": 0.0})
	p.waitKept()
	before := p.settled()
	was := p.view()

	p.do(chromedp.Reload())
	p.waitReady()
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && !v.busy`)
	is := p.view()
	if is.Undo != "" {
		t.Errorf("after a reload there is something to undo: %q", is.Undo)
	}
	if is.palette() != other || is.Order != "cym" {
		t.Errorf("after a reload palette %q in order %q, want %q in cym", is.palette(), is.Order, other)
	}
	if got, want := is.offset("yellow"), was.offset("yellow"); got != want {
		t.Errorf("after a reload the yellow layer's offset is %v, want %v", got, want)
	}
	if is.Registered != was.Registered {
		t.Errorf("after a reload the plates are registered %q, want %q", is.Registered, was.Registered)
	}
	p.command("station", map[string]any{"id": was.Station})
	p.waitSame(before, "print", 0.002)
}

// waitKept waits until the browser's store holds the session as it is now.
func (p *page) waitKept() {
	p.t.Helper()
	p.run(`(async () => {
		const base = await new Promise((resolve, reject) => {
			const request = indexedDB.open("threeply");
			request.onsuccess = () => resolve(request.result);
			request.onerror = () => reject(request.error);
		});
		const kept = () => new Promise((resolve, reject) => {
			const request = base.transaction("kept").objectStore("kept").get("session");
			request.onsuccess = () => resolve(request.result);
			request.onerror = () => reject(request.error);
		});
		const end = performance.now() + 30000;
		while (await kept() !== threeply.sessionText()) {
			if (performance.now() > end) throw new Error("the session is not kept after 30 s");
			await new Promise(done => setTimeout(done, 100));
		}
		base.close();
	})()`)
}
