package browsertest

import (
	"strings"
	"testing"
)

// TestPlatesOfMixedPolarity opens a session whose plates seem to be negatives and
// positives: the Plates station asks, once.
func TestPlatesOfMixedPolarity(t *testing.T) {
	p := demo(t)
	p.run(`(() => {
		const s = JSON.parse(threeply.sessionText());
		s.split = true;
		s.sources[s.assign[2]].film.negative = false;
		s.sources[s.assign[0]].remarks = ["the file holds 3 pictures; the first was taken"];
		threeply.desk(JSON.stringify({ do: "openSession", name: "mixed", text: JSON.stringify(s) }));
	})()`)
	p.click("#pull-plates")
	const question = `#panel-plates .ask[aria-label="Negatives and positives"]`
	p.waitFor(`!document.querySelector('` + question + `').hidden`)
	words := eval[string](p, `document.querySelector('`+question+`').innerText`)
	if !strings.Contains(words, "red and green plates look like negatives") || !strings.Contains(words, "blue like a positive") {
		t.Errorf("the question does not name the plates: %q", words)
	}
	if all := eval[string](p, `document.querySelector("#panel-plates").innerText`); !strings.Contains(all, "The file holds 3 pictures; the first was taken.") {
		t.Error("the remark on the red plate's file is not shown")
	}
	p.click(question + " button")
	p.waitFor(`document.querySelector('` + question + `').hidden && v.plates[2].polarity === "positive"`)
}
