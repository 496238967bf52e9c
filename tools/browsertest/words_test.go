package browsertest

import (
	"strings"
	"testing"

	"threeply/proof/session"
)

// TestMessagesKeepFileNames gives the page sessions that are none: a message that
// begins with a file's name begins as the file is named, any other with a capital.
func TestMessagesKeepFileNames(t *testing.T) {
	p := open(t, 1400, 860)
	p.waitFor(`v.registered === "auto" && !v.busy`)
	for name, want := range map[string]string{"über.json": "über.json: ", "session-x.json": "session-x.json: ", "the kept session": "The kept session: "} {
		p.run(`window.threeply.restore(` + quoted(name) + `, "no session")`)
		p.waitFor(`v.messages.length === 1`)
		m := p.view().Messages[0]
		if !strings.HasPrefix(m.Text, want) {
			t.Errorf("%s: %s", name, m.Text)
		}
		p.command("dismiss", map[string]any{"id": m.ID})
		p.waitFor(`v.messages.length === 0`)
	}
}

// TestFieldsTakeWhatASessionTakes holds the ends of the page's fields to the session's.
func TestFieldsTakeWhatASessionTakes(t *testing.T) {
	p := open(t, 1400, 860)
	p.station()
	ends := eval[map[string]session.Range](p, `Object.fromEntries([...document.querySelectorAll("#panel-register .judgement .number")]
		.map((field) => [field.querySelector("label").textContent, [Number(field.querySelector("input").min), Number(field.querySelector("input").max)]]))`)
	want := session.LengthRanges()
	for label, r := range map[string]session.Range{"Print width": want.PrintWidth, "Seen from": want.ViewingDist, "Own limit": want.Tolerance} {
		if ends[label] != r {
			t.Errorf("%s: the field takes %v, the session %v", label, ends[label], r)
		}
	}
}
