package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

// speak has the page speak another language, as a user does who chooses it.
func (p *page) speak(language, tag string) {
	p.run(`document.querySelector('#keys input[value="` + language + `"]').click()`)
	p.waitFor(`document.documentElement.lang === ` + quoted(tag))
	p.rest()
}

// texts are all texts of the document, seen or not: what stands in it, and what its
// attributes say to those who point or hear.
func (p *page) texts() []string {
	return eval[[]string](p, `(() => {
		const all = new Set();
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
		for (let node = walk.nextNode(); node; node = walk.nextNode()) {
			if (node instanceof Element) {
				for (const name of ["alt", "aria-label", "aria-valuetext", "label", "placeholder", "title"]) all.add(node.getAttribute(name) ?? "");
			} else if (!node.parentElement.closest("script, noscript, textarea")) all.add(node.data.trim());
		}
		return [...all];
	})()`)
}

// foreign finds what of the page's texts is no German: words that stand nowhere at the
// German side of the catalogue, and are no name, unit or code.
type foreign struct {
	german map[string]bool
	found  map[string]bool
}

var (
	letters = regexp.MustCompile(`\pL{3,}`)
	english = regexp.MustCompile(`(?i)(^|[^\pL])(the|and|with|from|which|are|not|is)([^\pL]|$)`)
	files   = regexp.MustCompile(`\S+\.(txt|tif|png|zip|json)`)
	codes   = regexp.MustCompile(`(?i)^(threeply .*|Mlx·h|PBk|ppi|max|min|rgb|srgb|cielab|display p3|png|tif|csv)$`)
)

func newForeign(t *testing.T) *foreign {
	t.Helper()
	text, err := os.ReadFile("../../web/words/de.json")
	if err != nil {
		t.Fatal(err)
	}
	var catalogue map[string]string
	if err := json.Unmarshal(text, &catalogue); err != nil {
		t.Fatal(err)
	}
	f := foreign{german: map[string]bool{}, found: map[string]bool{}}
	for _, said := range catalogue {
		for _, word := range letters.FindAllString(said, -1) {
			f.german[strings.ToLower(word)] = true
		}
	}
	return &f
}

// look looks at texts; own are those that the user gave.
func (f *foreign) look(texts, own []string) {
	for _, text := range texts {
		if strings.Contains(text, "\t") { // a table of data
			continue
		}
		rest := files.ReplaceAllString(text, "")
		for _, name := range own {
			if name != "" {
				rest = strings.ReplaceAll(rest, name, "")
			}
		}
		if codes.MatchString(strings.TrimSpace(rest)) {
			continue
		}
		bad := english.MatchString(rest)
		for _, word := range letters.FindAllString(rest, -1) {
			bad = bad || !f.german[strings.ToLower(word)] && !codes.MatchString(word)
		}
		if bad {
			f.found[text] = true
		}
	}
}

// german takes the page to German and looks through its drawers there: everything that it
// says is to be found in the catalogue. It leaves the page as it was.
func (p *page) german(t *testing.T) {
	t.Helper()
	f := newForeign(t)
	p.speak("de", "de")
	look := func() {
		own := eval[[]string](p, `(({title, plates, held, notes, kept, namesLike}) => [title, namesLike, ...plates.map(p => p.file),
			...[...held, ...kept].flatMap(h => [h.name, h.title]), ...notes.flatMap(n => [n.title, n.text])].filter(Boolean).sort((a, b) => b.length - a.length))(JSON.parse(threeply.view()))`)
		f.look(p.texts(), own)
	}
	look()
	for _, c := range []struct{ what, command, at, back string }{
		{"all palettes", "look", "board", "beside"}, {"difference", "look", "difference", "beside"}, {"reach", "look", "reach", "beside"},
		{"Register", "station", "register", ""}, {"Plates", "station", "plates", ""}, {"Proof", "station", "proof", ""}, {"Tissues", "station", "tissues", ""},
		{"Sheets", "station", "sheets", ""}, {"Review", "station", "review", ""},
	} {
		p.command(c.command, map[string]any{"id": c.at})
		p.rest()
		judge := ""
		if c.at == "proof" { // the names that screen readers hear are German too
			judge = "html"
		}
		p.measureTable(t, c.what+" in German", judge)
		look()
		p.command(c.command, map[string]any{"id": c.back})
	}
	for _, size := range [][2]int64{{700, 430}, {1024, 700}, {1400, 860}} {
		p.resize(size[0], size[1])
		if size[0] == 1400 { // with much to be said in the head
			p.command("palette", map[string]any{"id": "latechrome"})
			p.command("decide", map[string]any{"choice": "IM", "questions": "IM"})
			p.rest()
			p.measureTable(t, "a long head in German", "")
			if cut := eval[[]string](p, `[...document.querySelectorAll("#pulls .status")].filter(s => s.scrollWidth > s.clientWidth && !s.closest("#pull-tissues")).map(s => s.textContent)`); len(cut) > 0 {
				t.Errorf("a long head in German cuts %q", cut)
			}
			p.command("undo", nil)
			p.command("undo", nil)
			p.command("look", map[string]any{"id": "board"})
			p.rest()
			p.wholeFigures(t, " in German")
		}
		if size[0] < 1400 {
			p.onePicture(t)
		}
		if size[0] == 700 { // beside a drawer, under the longest words
			p.command("palette", map[string]any{"id": "latechrome"})
			p.command("masked", map[string]any{"on": true})
			p.command("station", map[string]any{"id": "proof"})
			p.command("look", map[string]any{"id": "losses"})
			p.rest()
			for _, fault := range eval[[]string](p, captionFaults) {
				t.Errorf("losses in German at 700 × 430 beside a drawer: %s", fault)
			}
			look()
			p.command("station", map[string]any{"id": ""})
			p.command("undo", nil)
			p.command("undo", nil)
		}
		if size[0] == 700 { // with two lists in the rail
			p.command("look", map[string]any{"id": "palettes"})
			p.rest()
			p.measureTable(t, "two palettes in German at 700 × 430", "")
			for _, cut := range eval[[]string](p, `[...document.querySelectorAll("#look select")].filter((list) => {
				if (!list.checkVisibility()) return false;
				const pen = document.createElement("canvas").getContext("2d"), of = getComputedStyle(list);
				pen.font = of.fontWeight + " " + of.fontSize + " " + of.fontFamily;
				return pen.measureText(list.selectedOptions[0].textContent).width > list.clientWidth - parseFloat(of.paddingLeft) - parseFloat(of.paddingRight) - 20; // its arrow
			}).map((list) => list.selectedOptions[0].textContent)`) {
				t.Errorf("of two lists in the rail in German at 700 × 430 one cuts %q", cut)
			}
		}
		p.command("look", map[string]any{"id": "marks"}) // which has most controls
		p.rest()
		p.measureTable(t, fmt.Sprintf("marks in German at %d × %d", size[0], size[1]), "")
		p.command("look", map[string]any{"id": "beside"})
	}
	// The panels were all made by now: their words are whole at every size.
	p.command("station", map[string]any{"id": "proof"})
	p.wholeWordsAt(t, [2]int64{390, 800}, [2]int64{700, 430}, [2]int64{1024, 700}, [2]int64{1400, 860})
	p.judgeUnfolded(t)
	p.command("station", map[string]any{"id": ""})
	p.command("look", map[string]any{"id": "sure"}) // three captions in a row
	p.wholeWordsAt(t, [2]int64{390, 800})
	p.command("look", map[string]any{"id": "beside"})
	p.resize(700, 430) // the longer words have their room at 200 % too
	p.command("stack", map[string]any{"on": false})
	p.rest()
	p.measureTable(t, "700 × 430 in German", "")
	p.command("stack", map[string]any{"on": true})
	p.resize(windowWidth, windowHeight)
	// A name that is also a word of the page is the user's, and stays; the word is still said.
	p.command("title", map[string]any{"text": "Surface"})
	p.waitFor(`document.querySelector("#title").title === "Surface"`)
	p.command("hold", nil)
	p.command("nameHeld", map[string]any{"n": p.session().Held[0].N, "text": "Sheets"})
	p.waitFor(`[...document.querySelectorAll(".captions option, #captions option")].some(o => o.textContent === "Sheets")`)
	for english, want := range map[string]string{
		"Surface":                         "Oberfläche",
		"Sheets":                          "Blätter",
		"−15 % pigment, −0.1 stop":        "−15 % Pigment, −0,1 Blende",
		"+15 % pigment, +0.1 stop":        "+15 % Pigment, +0,1 Blende",
		"“Surface” is put away and kept.": "„Surface“ ist weggelegt und aufbewahrt.",
		"a 1.5.tif: it is not a TIFF, PNG or JPEG, or its beginning is damaged. Save the scan as TIFF, PNG or JPEG.":                                                                                                             "a 1.5.tif: sie ist kein TIFF, PNG oder JPEG, oder ihr Anfang ist beschädigt. Speichern Sie den Scan als TIFF, PNG oder JPEG.",
		"Not everywhere: shadows turn reddish (ΔE00 3.2), lights turn bluish (ΔE00 1.2). The other tones print neutral.":                                                                                                         "Nicht überall: Tiefen werden rötlich (ΔE00 3,2), Lichter werden bläulich (ΔE00 1,2). Die anderen Töne drucken neutral.",
		"Not in register: 95 % of the picture lies within 1.31 px (130 µm on the plate), and the red and the green plate lie 3.20 px (320 µm on the plate) apart at the upper left.":                                             "Nicht im Passer: 95 % des Bildes liegen innerhalb von 1,31 px (130 µm auf der Platte), und die Rot- und die Grün-Platte liegen 3,20 px (320 µm auf der Platte) auseinander, oben links.",
		"Not in register: 95 % of the picture lies within 3.46 px, and the red and the blue plate lie 5.85 px apart at the middle. But a small part, 1 % of the picture, lies elsewhere, by up to 5.85 px, worst at the middle.": "Nicht im Passer: 95 % des Bildes liegen innerhalb von 3,46 px, und die Rot- und die Blau-Platte liegen 5,85 px auseinander, in der Mitte. Aber ein kleiner Teil, 1 % des Bildes, liegt anderswo, um bis zu 5,85 px, am schlechtesten in der Mitte.",
		"Chrome yellow, middle (PY34), in the yellow tissue: TOXIC. Lead chromate: may cause cancer, harms the unborn child, builds up in the body, harms water life; authorisation needed in many places.":                      "Chromgelb, mittel (PY34), im Gelb-Pigmentpapier: GIFTIG. Bleichromat: kann Krebs erzeugen, schädigt das Kind im Mutterleib, reichert sich im Körper an, schädigt Wasserorganismen; vielerorts zulassungspflichtig.",
		"2.5 is out of range: give 0 to 1 µm.":                       "2,5 liegt außerhalb: geben Sie 0 bis 1 µm.",
		"what nobody has put into German, 1.5":                       "what nobody has put into German, 1,5",
		"The cyan tissue is missing; a palette needs all three.":     "Das Cyan-Pigmentpapier fehlt; eine Palette braucht alle drei.",
		"set.json: its palette is not there any more; it was: Gloss": "set.json: seine Palette ist nicht mehr da; es war: Glanz",
		"more open windows must be kept shut":                        "more open windows must be kept shut",
		"r.txt, line 3: the field LAB_L stands twice; leave one out": "r.txt, Zeile 3: die Angabe LAB_L steht zweimal da; streichen Sie die Wiederholung",
	} {
		p.run(`threeply.say("note", ` + quoted(english) + `); threeplyPage.changed()`)
		p.rest()
		if got := eval[string](p, `[...document.querySelectorAll("#messages .message > p")].at(-1).textContent.replaceAll("\u00a0", " ")`); got != want {
			t.Errorf("%q is said as %q, want %q", english, got, want)
		}
	}
	p.run(`document.querySelectorAll("#messages .message button:last-of-type").forEach(b => b.click())`)
	for range 3 {
		p.command("undo", nil)
	}
	p.speak("en", "en-GB")
	for text := range f.found {
		t.Errorf("no German in web/words/de.json for %q", text)
	}
}
