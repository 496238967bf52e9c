package desk

import (
	"strings"
	"testing"
)

// Plates for which there is no memory are refused before it is asked for, and what is open
// stays open.
func TestPlatesTooLargeForTheMemory(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	before := b.desk.Open()
	b.holds = "open"
	b.drop(set("mural")...)
	token := b.desk.Jobs()[0].Token
	if b.desk.Arrive(token, 0, 0, 8, 6, 0, 96) == nil {
		t.Fatal("a small plate is refused")
	}
	if b.desk.Arrive(token, 1, 0, 40_000, 40_000, 0, 8) != nil {
		t.Fatal("room was made for 1600 megapixels")
	}
	if err := b.said("too large for a browser"); err != nil {
		t.Error(err)
	}
	b.run()
	if !b.halted[token] || b.desk.Live(token) || len(b.desk.Jobs()) > 0 {
		t.Error("the work goes on")
	}
	b.let()
	if b.desk.Open() != before || !strings.HasPrefix(before.Scans[0].Name, "red") {
		t.Error("what was open is gone")
	}
}
