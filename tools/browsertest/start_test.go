package browsertest

import (
	"image"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"threeply/proof/pigment"
	"threeply/tools/site"
)

// countsLinks notes of each time that the page asks whether a program of the graphics card is
// linked, which waits for the card, whether the card was heard to be done with it before: by
// KHR_parallel_shader_compile, or by a fence behind the link.
const countsLinks = `
	window.links = {asked: [], done: false, fence: null};
	const card = WebGL2RenderingContext.prototype;
	const around = (name, then) => {
		const f = card[name];
		card[name] = function (...how) { const said = f.apply(this, how); then(said, ...how); return said; };
	};
	around("linkProgram", () => { links.done = false; links.fence = null; });
	around("fenceSync", (fence) => { links.fence = fence; });
	around("getSyncParameter", (said, fence) => { links.done ||= fence === links.fence && said === card.SIGNALED; });
	around("getProgramParameter", (said, program, what) => {
		if (what === 0x91B1 /* COMPLETION_STATUS_KHR */) links.done ||= said;
		else if (what === card.LINK_STATUS) links.asked.push(links.done);
	});
`

// linksSlowly has the graphics card take its time over a shader, once slow.on is set, and notes in
// each frame of that time whether captions are in sight, but for the first fifth of a second.
const linksSlowly = `
	window.slow = {on: false, left: 0, since: 0, frames: 0, early: []};
	{
		const card = WebGL2RenderingContext.prototype;
		const link = card.linkProgram;
		card.linkProgram = function (...how) {
			[slow.left, slow.since] = [slow.on ? 50 : 0, performance.now()];
			return link.apply(this, how);
		};
		for (const [name, done, notYet] of [["getSyncParameter", card.SIGNALED, card.UNSIGNALED], ["getProgramParameter", true, false]]) {
			const ask = card[name];
			card[name] = function (...how) {
				const said = ask.apply(this, how);
				const status = name === "getSyncParameter" || how[1] === 0x91B1 /* COMPLETION_STATUS_KHR */;
				return status && said === done && slow.left > 0 && slow.left-- ? notYet : said;
			};
		}
		const look = () => {
			if (slow.left > 0 && performance.now() - slow.since > 200) {
				const captions = document.getElementById("captions");
				slow.frames++;
				if (getComputedStyle(captions).opacity !== "0") slow.early.push(captions.querySelector(".what").innerText);
			}
			requestAnimationFrame(look);
		};
		requestAnimationFrame(look);
	}
`

// leftToSee holds once the page has kept how the pictures stand, to be seen at once when it is opened
// again.
const leftToSee = `localStorage.getItem("glimpse") !== null`

// TestStart opens the page as a newcomer does, in a folder of some host: the demo stands,
// registered and proofed, with a historic palette beside a modern one. From then on it
// starts without the host.
func TestStart(t *testing.T) {
	p := openBlank(t, 1400, 860)
	p.before(`if (!sessionStorage.getItem("came")) { localStorage.removeItem("visited"); sessionStorage.setItem("came", "yes"); }`)
	p.before(countsLinks)
	p.before(linksSlowly)
	host := httptest.NewServer(http.StripPrefix("/prints/tool", site.Handler(os.DirFS(siteDir))))
	defer host.Close()
	p.goTo(host.URL + "/prints/tool/" + withOffline)
	p.waitReady()
	t.Logf("first picture after %.2f s (to reach: 4 s)", eval[float64](p, `observed.ready`)/1000)
	p.waitFor(`v.registered === "auto"`)
	t.Logf("registered after %.2f s", p.now()/1000)
	v := p.view()
	if !v.Ready {
		t.Error("the view does not say that it is ready")
	}
	if len(v.Plates) != 3 {
		t.Fatalf("%d plates, want 3", len(v.Plates))
	}
	for i, filter := range []string{"red", "green", "blue"} {
		plate := v.Plates[i]
		if plate.Filter != filter {
			t.Errorf("plate %d is %q, want %q", i, plate.Filter, filter)
		}
		if max(plate.W, plate.H) < 1600 {
			t.Errorf("the %s plate is %d × %d, want 1600 on the long side", filter, plate.W, plate.H)
		}
		if plate.Polarity != "negative" {
			t.Errorf("the %s plate is taken for a %s", filter, plate.Polarity)
		}
	}
	if len(v.Palettes) != len(pigment.Palettes()) || len(v.Orders) != 6 {
		t.Errorf("%d palettes and %d orders, want %d and 6", len(v.Palettes), len(v.Orders), len(pigment.Palettes()))
	}
	if len(v.Turns) < 3 {
		t.Errorf("%d turns on the first route, want clear support, temporary support, paper", len(v.Turns))
	} else if last := v.Turns[len(v.Turns)-1]; last.Reads != "right" {
		t.Errorf("the last turn reads %q, want right", last.Reads)
	}
	if texts := v.errors(); len(texts) != 0 {
		t.Errorf("messages: %q", texts)
	}
	if v.Undo != "" {
		t.Errorf("nothing was done, and there is something to undo: %q", v.Undo)
	}
	if v.Register.Sentence == "" {
		t.Error("the readout has no sentence")
	}

	if asked := eval[[]bool](p, `links.asked`); len(asked) < 2 || slices.Contains(asked, false) {
		t.Errorf("whether programs are linked was asked so: %v; want some, and each once the graphics card was done", asked)
	}

	p.waitFor(`document.querySelector(".visit:not([hidden]) p")`)
	p.run(`[...document.querySelectorAll(".visit button")].find(b => b.textContent === "Leave").click()`)
	if !eval[bool](p, `document.querySelector(".visit").hidden && localStorage.getItem("visited") === "yes"`) {
		t.Error("the first visit is not left")
	}
	p.rest()

	picture := p.shot()
	for _, id := range []string{"print", "other"} {
		if n := colours(picture, p.frameRect(id)); n < 500 {
			t.Errorf("the frame %q shows %d colours, that is no picture", id, n)
		}
	}
	// the first picture of a kind waits for its shader, and its words wait for it
	p.run(`slow.on = true`)
	p.run(`[...document.querySelectorAll("#rail label")].find(l => l.textContent === "difference").click()`)
	p.waitFor(`slow.frames > 0 && slow.left === 0`)
	p.rest()
	if early := eval[[]string](p, `slow.early`); len(early) > 0 {
		t.Errorf("while the picture is not there yet stands over it: %q", early)
	}
	if shown := eval[string](p, `getComputedStyle(document.getElementById("captions")).opacity + document.querySelector(".caption .what").innerText`); !strings.HasPrefix(shown, "1Difference") {
		t.Errorf("over the picture of the difference stands %q", shown)
	}
	// nothing is fetched from elsewhere, and nothing leaves the machine
	foreign := eval[[]string](p, `performance.getEntriesByType("resource").map(e => e.name)
		.filter(name => new URL(name).origin !== location.origin && !name.startsWith("blob:") && !name.startsWith("data:"))`)
	if len(foreign) != 0 {
		t.Errorf("fetched from elsewhere: %q", foreign)
	}
	longest := p.longest(0)
	t.Logf("longest task while starting: %.0f ms at %.0f ms (to reach: 200 ms)", longest.Duration, longest.Start)

	p.until(keepsItself)
	left := p.shot()
	p.waitFor(leftToSee)
	host.CloseClientConnections()
	host.Close()
	// a worker asks for both programs: the page would stand still for it
	const programs = `performance.getEntriesByType("resource").map(e => e.name.split("/").pop()).filter(name => name.endsWith(".wasm"))`
	if asked := eval[[]string](p, programs); len(asked) != 0 {
		t.Errorf("at the first visit the page itself asks for %q", asked)
	}
	within := p.frameRect("difference")
	p.do("a reload", chromedp.Reload())
	p.waitFor(`observed.seen`)
	if apart := meanApart(p.shot(), left, within); apart > 3 {
		t.Errorf("what is in sight at once lies %.1f/255 from the picture that was left", apart)
	}
	p.waitReady()
	seen, ready := eval[float64](p, `observed.seen`), eval[float64](p, `observed.ready`)
	t.Logf("opened again: what was left in sight after %.2f s, the first picture after %.2f s", seen/1000, ready/1000)
	if seen > ready || eval[bool](p, `document.getElementById("glimpse") !== null`) {
		t.Errorf("what was left was in sight after %.0f ms, the first picture after %.0f ms, and then it is still there", seen, ready)
	}
	if asked := eval[[]string](p, programs); len(asked) != 0 {
		t.Errorf("later the page itself asks for %q", asked)
	}
	p.rest()
	p.run(`[...document.querySelectorAll("#rail label")].find(l => l.textContent === "beside").click()`)
	if eval[bool](p, `localStorage.getItem("glimpse") !== null`) {
		t.Error("something was done, and what was left before is still to be seen at the next start")
	}
}

// meanApart is how far two pictures lie apart within a rectangle, in steps of 255 and on the mean.
func meanApart(a, b image.Image, within image.Rectangle) float64 {
	sum := 0.0
	for y := within.Min.Y; y < within.Max.Y; y++ {
		for x := within.Min.X; x < within.Max.X; x++ {
			ar, ag, ab, _ := a.At(x, y).RGBA()
			br, bg, bb, _ := b.At(x, y).RGBA()
			for _, two := range [3][2]uint32{{ar, br}, {ag, bg}, {ab, bb}} {
				sum += math.Abs(float64(two[0])-float64(two[1])) / 257
			}
		}
	}
	return sum / float64(3*within.Dx()*within.Dy())
}
