package browsertest

import (
	"encoding/json"
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
	files   = regexp.MustCompile(`\S+\.(tif|png|zip|json)`)
	codes   = regexp.MustCompile(`(?i)^(threeply .*|Mlx·h|ppi|max|min|rgb|srgb|cielab|display p3|png|tif|csv)$`)
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
		p.measureTable(t, c.what+" in German", "")
		look()
		p.command(c.command, map[string]any{"id": c.back})
	}
	// A name that is also a word of the page is the user's, and stays.
	p.command("title", map[string]any{"text": "Surface"})
	p.waitFor(`document.querySelector("#title").title === "Surface"`)
	p.command("undo", nil)
	p.speak("en", "en-GB")
	for text := range f.found {
		t.Errorf("no German in web/words/de.json for %q", text)
	}
}
