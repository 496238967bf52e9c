package desk

import (
	"slices"
	"strings"
	"testing"

	"threeply/proof/command"
)

// Plates that come one by one are kept each in its place, over a reload and beside the work
// that is open, until the set is whole; then it is opened so.
func TestPlatesOneByOne(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	red, green, unnamed := file{"red.tif", alone + "1"}, file{"green.tif", alone + "2"}, file{"scan7.tif", alone + "3"}
	b.drop(red)
	b.shows(set("harbour"), "earth")
	if err := b.said("red.tif as the red plate. Still missing: the green and blue plates"); err != nil {
		t.Error(err)
	}
	b.close()

	b = d.newTab(t, b.remembered)
	b.shows(set("harbour"), "earth")
	if g := b.desk.Gathering(); g == nil || g.Plates[0].Name != "red.tif" || g.Plates[0].Key == "" || len(g.missing()) != 2 {
		t.Fatalf("after a reload there is %+v", g)
	} else if got := g.Plates[0].Thumb; got != "picture of red.tif" {
		t.Errorf("its small picture is %q", got)
	}
	b.drop(unnamed)
	b.desk.MovePlate(1, 2)
	b.run()
	if g := b.desk.Gathering(); g.Plates[2].Name != "scan7.tif" || !slices.Equal(g.missing(), []string{"green"}) {
		t.Fatalf("gathered are %+v", g.Plates)
	}
	for _, k := range b.desk.Cards() {
		if k.Gathered != nil {
			t.Errorf("the list shows %+v", k)
		}
	}
	b.drop(green)
	doc := b.desk.Open()
	for f, want := range []file{red, green, unnamed} {
		if got := doc.Sources[doc.Assign[f]]; got.SHA256 != want.hash() {
			t.Errorf("plate %d is %s, want %s", f, got.File, want.name)
		}
	}
	if b.desk.Gathering() != nil || doc.Asked {
		t.Errorf("the set is open, and gathered are %+v; asked %v", b.desk.Gathering(), doc.Asked)
	}
	for key, text := range d.records {
		if strings.Contains(text, `"gathered"`) {
			t.Errorf("%v is left", key)
		}
	}
	for _, f := range []file{red, green, unnamed} {
		if _, kept := d.scans[f.hash()]; !kept {
			t.Errorf("%s is not kept", f.name)
		}
	}
}

// A set that is whole, and whose page is closed before it is open, is offered by the next page,
// and opened at a click.
func TestPlatesOneByOneAndClosed(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	red, green, blue := file{"red.tif", alone + "1"}, file{"green.tif", alone + "2"}, file{"blue.tif", alone + "3"}
	b.drop(red, green)
	b.desk.Bring(b.take(blue))
	for !b.desk.Gathering().Whole() {
		for _, o := range b.desk.Orders() {
			b.carryOut(o)
		}
	}
	b.holds = "open"
	b.run()
	b.close()

	b = d.newTab(t, b.remembered)
	b.shows(set("harbour"), "arylide")
	m := b.desk.Messages()
	if len(m) != 1 || m[0].Act == nil || m[0].Act.Do != "openGathered" {
		t.Fatalf("the next page offers nothing: %+v", m)
	}
	if err := b.desk.Hear([]byte(`{"do":"openGathered"}`)); err != nil {
		t.Fatal(err)
	}
	b.run()
	for f, want := range []file{red, green, blue} {
		if doc := b.desk.Open(); doc.Sources[doc.Assign[f]].SHA256 != want.hash() {
			t.Errorf("plate %d is %s, want %s", f, doc.Sources[doc.Assign[f]].File, want.name)
		}
	}
	if b.desk.Gathering() != nil || b.said("All three plates") == nil {
		t.Errorf("the set is open, and gathered are %+v, said is %+v", b.desk.Gathering(), b.desk.Messages())
	}
	b.desk.OpenGathered() // there is none
}

// Two plates together, the same one again, one that is let go, and a browser that keeps
// nothing.
func TestPlatesInTwos(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	red, blue := file{"red.tif", alone + "1"}, file{"blue.tif", alone + "2"}
	b.drop(red, blue)
	b.drop(red)
	if g := b.desk.Gathering(); g == nil || g.Plates[0].Name != "red.tif" || g.Plates[2].Name != "blue.tif" || !slices.Equal(g.missing(), []string{"green"}) {
		t.Fatalf("gathered are %+v", g)
	}
	if !b.desk.Open().Demo() {
		t.Error("the demonstration set was put away for two plates")
	}
	if m := b.desk.Messages(); len(m) != 1 || !strings.Contains(m[0].Text, "Still missing: the green plate.") {
		t.Errorf("the same set is spoken of so: %+v", m)
	}
	b.desk.LetGo(0)
	if m := b.desk.Messages(); len(m) > 0 {
		t.Errorf("what is said is not true any more: %+v", m)
	}
	b.desk.LetGo(1)
	b.run()
	if g := b.desk.Gathering(); len(g.missing()) != 2 {
		t.Errorf("gathered are %+v", g.Plates)
	}
	b.desk.LetGo(2)
	b.run()
	if b.desk.Gathering() != nil || len(d.scans) != 0 {
		t.Errorf("all was let go, and there are %+v and %d scans", b.desk.Gathering(), len(d.scans))
	}
	d.full, d.refuses = true, "its storage is closed to this page"
	b.drop(red)
	if err := b.said("The plates that wait for the rest of their set could not be kept in this browser"); err != nil {
		t.Error(err)
	}
	for _, m := range b.desk.Messages() {
		if strings.Contains(m.Text, "put away") {
			t.Errorf("no set is put away: %+v", m)
		}
	}
}
