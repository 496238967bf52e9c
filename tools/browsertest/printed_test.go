package browsertest

import (
	"strconv"
	"testing"
)

// TestWideScreen looks at a print on a screen that says that it is Display P3: the print's
// table is made for it, what is drawn is still what Go defines, and less lies outside.
func TestWideScreen(t *testing.T) {
	p := scans(t)
	plates := pierPlates(t)
	p.drop(plates[:]...)
	p.waitFor(`v.plates.every(q => q.file.startsWith("pier_")) && v.registered === "auto" && ` + idle)
	for _, look := range []string{"beside", "difference", "outside", "rooms"} {
		p.command("look", map[string]any{"id": look})
		p.compareAll("wide: " + look)
	}
	p.command("look", map[string]any{"id": "outside"})
	p.waitFor(`document.querySelector("#captions .caption .legend").textContent.includes("Display P3")`)
}

// TestExposureMovesThePrint prints straight, gives the cyan layer more light with the
// slider, and sees the print change, the table of what is lost follow and undo bring all
// back; what if all get 15 % more is one click.
func TestExposureMovesThePrint(t *testing.T) {
	p := demo(t)
	p.command("station", map[string]any{"id": "proof"})
	p.waitFor(`document.querySelectorAll("#panel-proof .printed .fates tr").length === 3`)
	before := p.settled()
	p.run(`document.querySelector("#panel-proof .printed input[value=straight]").click()`)
	p.waitFor(`v.way.straight && v.frames.find(f => f.id === "print").note.includes("straight")`)
	p.waitChanged(before, "print", 0.05)
	lost := `document.querySelector("#panel-proof .printed .fates").textContent`
	first := eval[string](p, lost)
	p.run(`(() => {
		const range = document.querySelector("#panel-proof .exposures input[type=range]");
		range.value = "0.5";
		range.dispatchEvent(new Event("input", { bubbles: true }));
		range.dispatchEvent(new Event("change", { bubbles: true }));
	})()`)
	p.waitFor(`v.prints.find(one => one.printer === "cyan").stops === 0.5 && v.prints.find(one => one.printer === "yellow").stops === 0`)
	p.waitFor(lost + ` !== ` + quoted(first) + ` && document.querySelector("#panel-proof .exposures").textContent.includes("41\u00a0% more light")`)
	for label, look := range map[string]string{"What if all get 15 % more or less?": "exposed", "Show where": "losses", "Straight beside tuned": "ways"} {
		p.run(`[...document.querySelectorAll("#panel-proof button")].find(b => b.textContent.replaceAll("\u00a0", " ") === ` + quoted(label) + `).click()`)
		p.waitFor(`v.look === ` + quoted(look))
	}
	if s := p.session(); !s.Way.Straight || s.Way.Stops != [3]float64{0, 0, 0.5} {
		t.Errorf("looking changed the way of printing: %+v", s.Way)
	}
	p.command("undo", nil)
	p.command("undo", nil)
	p.waitFor(`!v.way.straight && v.prints.every(one => one.stops === 0) && v.undo === ""`)
	measuredStrip(p)
}

// measuredStrip enters a strip that was measured: not without all of its figures, then it
// stands in place of what is assumed of that tissue, until it is taken away.
func measuredStrip(p *page) {
	p.t.Helper()
	strip := "#panel-proof .strip"
	p.run(`for (let e = document.querySelector("` + strip + `"); e; e = e.parentElement.closest("details")) e.open = true`)
	for i, words := range []string{"12", "1", "0.6"} {
		p.pushButton(strip, "Take it")
		p.waitFor(`document.querySelector("` + strip + ` > .refused").textContent !== ""`)
		p.run(`(() => { const e = document.querySelectorAll("` + strip + ` input")[` + strconv.Itoa(i) + `]; e.focus(); e.select(); })()`)
		p.typed(words)
	}
	p.pushButton(strip, "Take it")
	p.waitFor(`v.fading.map((one) => one.measured).join() === "false,false,true" && document.querySelector(".on-show table").textContent.includes("as a strip was measured")`)
	p.pushButton(strip, "Take it away")
	p.waitFor(`v.fading.every((one) => !one.measured)`)
}
