package browsertest

import (
	"context"
	"encoding/json"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// operable are the roles that a user acts on (WAI-ARIA 1.2, W3C 2023, section 5.3.2,
// and link); each must have a name (WCAG 2.2, success criterion 4.1.2).
var operable = []string{"button", "checkbox", "combobox", "link", "radio", "slider", "spinbutton", "tab", "textbox", "DisclosureTriangle"}

// TestNames looks at the page as a screen reader does: everything that can be acted on
// says what it is.
func TestNames(t *testing.T) {
	p := demo(t)
	for _, station := range []string{"plates", "register", "tissues", "proof", "review", "sheets", "points"} {
		p.command("station", map[string]any{"id": station})
		p.rest()
		ctx, cancel := p.limit()
		tree, err := chromedp.Run(ctx, func(ctx context.Context, target *chromedp.Target) (accessibility.GetFullAXTreeResult, error) {
			return cdp.Call(ctx, target, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, node := range tree.Nodes {
			role := words(node.Role)
			if node.Ignored || !slices.Contains(operable, role) {
				continue
			}
			found++
			if words(node.Name) == "" {
				t.Errorf("%s: a %s without a name (node %d)", station, role, node.BackendDOMNodeID)
			}
		}
		if found < 15 {
			t.Errorf("%s: only %d controls in the accessibility tree", station, found)
		}
	}
}

func words(value *accessibility.Value) string {
	if value == nil {
		return ""
	}
	var text string
	if json.Unmarshal(value.Value, &text) != nil {
		return ""
	}
	return text
}
