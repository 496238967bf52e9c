package stack

import (
	"strings"
	"testing"

	"threeply/proof/transfer"
)

// L. P. Clerc, Photography, Theory and Practice, § 657: the last support's surface
// becomes the print's. Without one to be stripped from nothing is cast, so there is
// no gloss.
func TestOffersFollowTheLastSupport(t *testing.T) {
	for id, want := range map[string]struct{ finishes, support string }{
		"direct":                {"satin matt", "paper"},
		"clear-paper":           {"gloss satin matt", "clear support"},
		"clear-temporary-paper": {"gloss satin matt", "temporary support"},
	} {
		r, ok := transfer.RouteByID(id)
		if !ok {
			t.Fatalf("no route %s", id)
		}
		var ids []string
		for _, o := range Offers(r) {
			ids = append(ids, o.ID)
			if !strings.Contains(o.When, want.support) {
				t.Errorf("%s %s: “%s” says nothing of the %s", id, o.ID, o.When, want.support)
			}
			if !Offered(r, o.ID) {
				t.Errorf("%s: %s is not offered", id, o.ID)
			}
		}
		if got := strings.Join(ids, " "); got != want.finishes {
			t.Errorf("%s offers %s, want %s", id, got, want.finishes)
		}
	}
	if r, _ := transfer.RouteByID("direct"); Offered(r, Gloss.ID) {
		t.Error("a relief that dries free is offered with a gloss")
	}
	for _, r := range transfer.Routes() {
		if len(Offers(r)) == 0 {
			t.Errorf("%s offers nothing", r.ID)
		}
	}
}
