package desk

import (
	"maps"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
)

// Whatever is wrong with a kept document, the page says so, opens something else and
// leaves the records as they are.
func TestDamagedRecordsAreLeftAlone(t *testing.T) {
	for name, damage := range map[string]func(d *disk, id string){
		"no head":        func(d *disk, id string) { delete(d.records, Key{storeHeads, id}) },
		"a torn head":    func(d *disk, id string) { d.records[Key{storeHeads, id}] = `{"first":0,"at":` },
		"a missing step": func(d *disk, id string) { delete(d.records, Key{storeSteps, stepName(id, 0)}) },
		"a torn step":    func(d *disk, id string) { d.records[Key{storeSteps, stepName(id, 1)}] = `{"version":3,` },
		"a step beyond": func(d *disk, id string) {
			d.records[Key{storeHeads, id}] = `{"first":0,"at":9,"words":["",""],"asked":false}`
		},
		"a torn rest": func(d *disk, id string) { d.records[Key{storeHeads, leftName(id)}] = `[` },
	} {
		d := newDisk()
		b := d.newTab(t, "")
		b.drop(set("harbour")...)
		b.do(command.Palette{ID: "earth"})
		id := b.desk.Open().ID
		b.close()
		damage(d, id)
		before := len(d.records)
		b = d.newTab(t, id)
		if err := b.said("he kept work cannot be opened"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if b.desk.Open() == nil || !b.desk.Open().Demo() {
			t.Errorf("%s: nothing else is open", name)
		}
		b.drop(set("harbour")...) // its scans begin anew
		b.shows(set("harbour"), session.New().Palette)
		if b.desk.Open().ID == id || len(d.records) < before {
			t.Errorf("%s: what was kept was replaced", name)
		}
	}
}

// Whatever a record of the store holds in place of what was written, the page opens, says what
// is wrong or opens the work, and leaves every other record as it is.
func TestAnyDamageOfARecord(t *testing.T) {
	whole := newDisk()
	b := whole.newTab(t, "")
	b.drop(set("harbour")...)
	id := b.desk.Open().ID
	for range session.NotesEach + 1 { // they lie in blocks
		b.do(command.Note{X: 1, Y: 1, At: "2026-03-02T10:20:00Z"})
	}
	b.do(command.Palette{ID: "earth"})
	was := b.desk.Open().State
	b.close()
	damaged := 0
	for key, text := range whole.records {
		if !strings.HasPrefix(key.Name, id) || key.Store == storeSteps && !strings.Contains(key.Name, blockPrefix) && key.Name != stepName(id, session.NotesEach+2) {
			continue // of many steps the last
		}
		for what, with := range map[string]string{
			"nothing": "", "a half": text[:len(text)/2], "no value": "null", "a list": "[]", "an empty record": "{}", "zeros": "\x00\x00\x00\x00",
			"no notes": `{"notes":[]}`, "a block that is not there": `{"blocks":[999],"state":{}}`, "a number": "1e999",
		} {
			d := newDisk()
			maps.Copy(d.records, whole.records)
			maps.Copy(d.scans, whole.scans)
			d.records[key] = with
			damaged++
			b := d.newTab(t, id)
			if doc := b.desk.Open(); doc == nil || !doc.Demo() && !doc.State.Equal(was) {
				t.Errorf("%v with %s: neither the work nor anything else is open", key, what)
			}
			for other, text := range whole.records {
				if other != key && other.Store != storeCards && d.records[other] != text {
					t.Errorf("%v with %s: %v was changed", key, what, other)
				}
			}
			b.close()
		}
	}
	if damaged < 40 {
		t.Errorf("only %d records were damaged", damaged)
	}
}

// A step of long ago that is damaged is refused when it is gone to.
func TestDamagedStepOfLongAgo(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	b.close()
	d.records[Key{storeSteps, stepName(b.desk.Open().ID, 0)}] = "no session"
	b = d.newTab(t, b.remembered)
	b.shows(set("harbour"), "earth")
	if err := b.desk.Open().Undo(); err == nil || !strings.Contains(err.Error(), "step 0 of the kept work") {
		t.Errorf("undo: %v", err)
	}
	b.shows(set("harbour"), "earth")
}

func TestASetOpenInAnotherTabIsNotForgotten(t *testing.T) {
	d := newDisk()
	one := d.newTab(t, "")
	one.drop(set("harbour")...)
	id := one.desk.Open().ID
	two := d.unwoken(t, "")
	two.drop(set("mill")...)
	two.wake()
	two.desk.Refresh(d.cardTexts())
	two.desk.Remove(id)
	two.desk.Forget(id)
	two.run()
	if err := two.said("Another tab has this set open"); err != nil {
		t.Error(err)
	}
	one.do(command.Palette{ID: "earth"})
	one.close()
	one = d.newTab(t, id)
	one.shows(set("harbour"), "earth")
}

// An export of a set that was put away meanwhile is still wanted; its plates are not
// to be had any more.
func TestExportsOutlastTheirDocument(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	token := b.desk.Begin(Exporting, "Rendering the print")
	if b.desk.Plates(token) == nil {
		t.Error("it has no plates")
	}
	b.drop(set("mill")...)
	if b.desk.Plates(token) != nil {
		t.Error("it is given the plates of another set")
	}
	if !b.desk.End(token) {
		t.Error("its file is not wanted any more")
	}
}

func TestWhatWasKeptBeforeDocuments(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	text, err := session.Write(b.desk.Open().State)
	if err != nil {
		t.Fatal(err)
	}
	b = newDisk().unwoken(t, "")
	b.desk.WakeOld(Kept{Session: string(text), Files: b.take(set("harbour")...)})
	b.run()
	b.shows(set("harbour"), "earth")
	if len(b.desk.Cards()) != 1 {
		t.Errorf("%d sets are kept", len(b.desk.Cards()))
	}
}

func TestTheDeskHearsToTheLetter(t *testing.T) {
	b := newDisk().newTab(t, "")
	for _, text := range []string{
		``, `null`, `{}`, `{"do":"fly"}`, `{"do":"stop"}`, `{"do":"stop","token":"1"}`, `{"do":"stop","token":1,"all":true}`,
		`{"do":"restore","id":7}`, `{"do":"loaded","id":"a","files":[{"key":"a"}]}`,
	} {
		if err := b.desk.Hear([]byte(text)); err == nil {
			t.Errorf("%s is taken", text)
		}
	}
	if err := b.desk.Hear([]byte(`{"do":"demo"}`)); err != nil {
		t.Error(err)
	}
	names, values := Hears()
	for i, name := range names {
		if values[i] == nil {
			t.Errorf("%s has no value", name)
		}
	}
}

func TestBadAnswersOfTheWorker(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	b.holds = "open"
	b.drop(set("mill")...)
	token := b.desk.coming.token
	b.desk.Opened(token, `{"version":`, false)
	b.run()
	b.shows(set("harbour"), session.New().Palette)
	if len(b.desk.Messages()) == 0 || len(b.desk.Jobs()) != 0 {
		t.Errorf("messages %+v, jobs %+v", b.desk.Messages(), b.desk.Jobs())
	}
	b.desk.Register()
	b.run()
	for _, text := range []string{"", "{}", `{"Found":[{"matrix":[0,0,0,0,0,0]}]}`} {
		was := b.desk.Open().State
		b.holds = "register"
		b.desk.Register()
		b.run()
		b.desk.Registered(b.desk.lastToken, text)
		if !b.desk.Open().State.Equal(was) {
			t.Errorf("%q changed the state", text)
		}
	}
}

// A set whose three exposures lie in one file is there again with its scan when the tab is opened later.
func TestTallSetIsKeptWithItsScan(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	tall := file{"tall.tif", "three exposures"}
	b.drop(tall)
	b.desk.ReadAs(Options{Layout: "tall"})
	b.run()
	b.do(command.Palette{ID: "earth"})
	b.run()
	id := b.desk.Open().ID
	b.close()

	if _, kept := d.scans[tall.hash()]; !kept {
		t.Fatal("the scan is not kept")
	}
	b = d.newTab(t, id)
	doc := b.desk.Open()
	if doc == nil || doc.ID != id || doc.Palette != "earth" || doc.State.Layout != "tall" {
		t.Fatalf("another document is open: %+v", b.desk.Messages())
	}
	if k := b.desk.Cards()[0]; !k.ScansKept || k.Scans[0].SHA256 != tall.hash() {
		t.Errorf("its card says of its scans %+v", k)
	}
}
