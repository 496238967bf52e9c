package command

import (
	"fmt"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/testsheet"
)

// A sheet that was printed stays what it is while its palette changes, and is what readings are
// of until another is chosen.
func TestPrintedSheetsAreKept(t *testing.T) {
	s := NewHistory(sessiontest.Opened())
	was, _ := s.PaletteByID(s.Palette)
	printed := testsheet.Of(was)
	must(t, s, KeepSheet{At: "2026-03-02T10:20:00Z"}, Palette{ID: "chrome"})
	of, known := s.TestSheets()
	if of.Code() != printed.Code() || len(known) != 2 || known[0].Code() == of.Code() {
		t.Fatalf("readings are of %s, not of %s, of %d known", of.Code(), printed.Code(), len(known))
	}
	if got := s.Printed[0]; got.Palette != was.Name || got.At != "2026-03-02T10:20:00Z" {
		t.Errorf("kept as %.100v", got)
	}
	// By a plan, as it lies in a file; its palette's name is a text like any other.
	named := was
	named.Name = strings.Repeat("<b>", 400)
	other, _ := pigment.PaletteByID("earth")
	plan, err := testsheet.Of(other).File(named, "Threeply", "yesterday")
	if err != nil {
		t.Fatal(err)
	}
	must(t, s, KeepSheet{Plan: string(plan)})
	if got := s.Printed[0]; got.Code != testsheet.Of(other).Code() || s.TestSheet != got.Code || got.At != "" || len([]rune(got.Palette)) > pigment.MostLetters {
		t.Errorf("kept as %.200v", got)
	}
	must(t, s, KeepSheet{Plan: string(plan)}) // is there already
	must(t, s, ReadSheet{Code: printed.Code()}, DropSheet{Code: printed.Code()})
	if of, _ := s.TestSheets(); s.TestSheet != "" || len(s.Printed) != 1 || of.Code() == printed.Code() {
		t.Errorf("%s is still read of %d", s.TestSheet, len(s.Printed))
	}
	if err := s.Undo(); err != nil || s.TestSheet != printed.Code() {
		t.Errorf("undone, readings are of %q", s.TestSheet)
	}
	text, err := session.Write(s.State)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := session.Read("a session", text); err != nil || len(back.Printed) != 2 || back.TestSheet != printed.Code() {
		t.Errorf("read back: %v", err)
	}
	for _, c := range []struct {
		do   Command
		says string
	}{
		{KeepSheet{Plan: "{}"}, "0 patches"},
		{ReadSheet{Code: "ABCD"}, "no test sheet “ABCD”"},
		{DropSheet{Code: "ABCD"}, "no test sheet “ABCD” is kept"},
	} {
		if err := s.Do(c.do, ""); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c.do, err)
		}
	}
	for i := len(s.Printed); i < session.MostPrinted; i++ {
		must(t, s, KeepSheet{Plan: onePatch(i)})
	}
	if err := s.Do(KeepSheet{Plan: onePatch(session.MostPrinted)}, ""); err == nil || !strings.Contains(err.Error(), "take one away first") {
		t.Errorf("one too many: %v", err)
	}
}

// onePatch is a plan of its own for every n.
func onePatch(n int) string {
	return fmt.Sprintf(`{"patches":[{"id":"A%d","use":"fit","ground":"white","logE":{"yellow":-0.35,"magenta":null,"cyan":null}}]}`, n+1)
}
