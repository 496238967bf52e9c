package desk

import (
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
)

// savedAs is the text of the open document's session with a palette.
func savedAs(t *testing.T, b *tab, palette string) string {
	t.Helper()
	s := b.desk.Open().State
	s.Palette = palette
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func (b *tab) says(what string) bool { return b.said(what) == nil }

// A session with its scans in one file opens on a machine that has never seen either; on
// one where these scans were worked on it comes on top of that work, and Undo brings the
// work back.
func TestASessionWithItsScans(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	text := savedAs(t, b, "earth")

	other := newDisk().newTab(t, "")
	if err := other.desk.OpenPacked("work.zip", text, other.take(set("harbour")...), nil, `{"look":"difference"}`); err != nil {
		t.Fatal(err)
	}
	other.run()
	doc := other.desk.Open()
	if string(doc.Sight()) != `{"look":"difference"}` {
		t.Errorf("it is to be looked at as %s", doc.Sight())
	}
	if doc.Palette != "earth" || doc.Demo() || len(doc.Scans) != 3 || !other.desk.Idle() {
		t.Fatalf("opened with the palette %s, %d scans", doc.Palette, len(doc.Scans))
	}
	if at := other.disk.newTab(t, doc.ID).desk.Open(); at.Palette != "earth" {
		t.Errorf("after a reload the palette is %s", at.Palette)
	}

	if err := b.desk.Open().Do(command.Palette{ID: "chrome"}, ""); err != nil {
		t.Fatal(err)
	}
	b.desk.Demo() // the work is put away
	b.run()
	if err := b.desk.OpenPacked("work.zip", text, b.take(set("harbour")...), []string{"A part was damaged."}, `{"look":`); err != nil {
		t.Fatal(err)
	}
	b.run()
	doc = b.desk.Open()
	if doc.Sight() != nil {
		t.Errorf("it is to be looked at as %s, which is no JSON", doc.Sight())
	}
	if doc.Palette != "earth" || !b.says("Undo brings that back") || !b.says("A part was damaged") {
		t.Errorf("on top of the work the palette is %s, and it is said %+v", doc.Palette, b.desk.Messages())
	}
	if err := doc.Undo(); err != nil || doc.Palette != "chrome" {
		t.Errorf("undone, the palette is %s (%v)", doc.Palette, err)
	}
	if err := b.desk.OpenPacked("work.zip", text, b.take(set("harbour")...), nil, ""); err != nil {
		t.Fatal(err)
	}
	b.run()
	if got := b.desk.Open(); got.ID != doc.ID || got.Palette != "earth" {
		t.Errorf("opened over the open set: %s", got.Palette)
	}
}

// One scan that holds all three plates is all that the session of it needs.
func TestASessionOfOneScan(t *testing.T) {
	tall := file{"tall.tif", "three exposures"}
	b := newDisk().newTab(t, "")
	b.drop(tall)
	b.desk.ReadAs(Options{Layout: "tall"})
	b.run()
	text := savedAs(t, b, "earth")

	other := newDisk().newTab(t, "")
	if err := other.desk.OpenPacked("work.zip", text, other.take(tall), nil, ""); err != nil {
		t.Fatal(err)
	}
	other.run()
	if doc := other.desk.Open(); doc == nil || doc.Palette != "earth" || doc.State.Layout != "tall" || other.says("is a session of other scans") {
		t.Errorf("not opened: %+v", other.desk.Messages())
	}
}

// A session without its scans has them back where they are kept, and else waits until they
// are dropped, whatever is opened meanwhile.
func TestASessionWithoutItsScans(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	text := savedAs(t, b, "earth")
	b.drop(set("mill")...)
	if err := b.desk.OpenSession("work.json", text); err != nil {
		t.Fatal(err)
	}
	b.run()
	if doc := b.desk.Open(); doc.Palette != "earth" || doc.Sources[0].SHA256 != set("harbour")[0].hash() {
		t.Errorf("the kept scans of the session are not open: %s, %s", doc.Sources[0].SHA256, doc.Palette)
	}

	other := newDisk().newTab(t, "")
	if err := other.desk.OpenSession("work.json", text); err != nil || !other.says("drop red.tif, green.tif and blue.tif") {
		t.Fatalf("%v, %+v", err, other.desk.Messages())
	}
	other.drop(set("mill")...)
	if doc := other.desk.Open(); doc.Palette == "earth" || doc.Touched() {
		t.Error("the session was taken up on other scans")
	}
	other.drop(set("harbour")...)
	if doc := other.desk.Open(); doc.Palette != "earth" {
		t.Errorf("its scans are open, and the palette is %s", doc.Palette)
	}
	other.drop(set("mill")...)
	other.drop(set("harbour")...)
	if n := len(other.desk.Open().History.UndoWords()); other.desk.Open().Palette != "earth" || n == 0 {
		t.Error("the work is another one")
	}
}

// Of a session of other pixels with the same names and sizes only the print and what was
// said of the object are taken: it certifies nothing of the scans that are open.
func TestASessionOfOtherPixels(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Place{Source: 0, Pose: session.Pose{DX: 3}})
	b.do(command.Pin{Source: 1, X: 2, Y: 2})
	b.do(command.Identify{Number: new("1937.1")})
	text := savedAs(t, b, "earth")

	other := newDisk().newTab(t, "")
	other.drop(set("mill")...)
	before := other.desk.Open().State
	if err := other.desk.OpenSession("work.json", text); err != nil {
		t.Fatal(err)
	}
	other.run()
	doc := other.desk.Open()
	if err := other.said("work.json belongs to other scans of these names"); err != nil {
		t.Error(err)
	}
	if doc.Palette != "earth" || doc.Identity.Number != "1937.1" {
		t.Errorf("of the session were taken %s and %q", doc.Palette, doc.Identity.Number)
	}
	if doc.Found != before.Found || doc.Registered != before.Registered || len(doc.Marks) != len(before.Marks) || doc.Sources[0].SHA256 != set("mill")[0].hash() {
		t.Errorf("register and marks of other scans were taken: %+v, %q, %+v", doc.Found, doc.Registered, doc.Marks)
	}
	doc.Undo()
	if !doc.State.Equal(before) {
		t.Error("undo does not bring back what was open")
	}
}

func TestASessionThatCannotBeRead(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	before := b.desk.Open().State
	for _, text := range []string{"", "{}", strings.Replace(savedAs(t, b, "earth"), `"version": `, `"version": 9`, 1)} {
		if err := b.desk.OpenPacked("work.zip", text, b.take(set("mill")...), nil, ""); err == nil {
			t.Errorf("%.20q is opened", text)
		}
		b.run()
	}
	if !b.desk.Open().State.Equal(before) {
		t.Error("what was open is another work")
	}
	whole := savedAs(t, b, "earth")
	if err := b.desk.OpenSession("work.json", whole[:strings.Index(whole, `"section"`)]); err != nil || b.desk.Open().Palette != "earth" || !b.says("These parts of it begin anew: section") {
		t.Errorf("of a session that is cut off: %v, %+v", err, b.desk.Messages())
	}
}
