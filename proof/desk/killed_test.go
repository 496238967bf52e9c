package desk

import (
	"maps"
	"math/rand/v2"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
)

// A scripted hour of work is killed at random moments: whatever was on disk by then
// must open again, and be no older than the last answer that the page had.
func TestKilledAtAnyMomentNothingIsLost(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 17))
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	before := b.desk.Open().State // as the disk has it
	for range 120 {
		doc := b.desk.Open()
		b.edit(random)
		if random.IntN(3) == 0 {
			b.holds = "store" // the disk is slow
		}
		b.desk.Keep()
		b.run()
		saved, now := b.desk.Saved().State == SavedAll, doc.State
		undo, redo := doc.UndoWords(), doc.RedoWords()

		after := *d // what a new tab finds
		after.records, after.locks = maps.Clone(d.records), map[string]*tab{}
		c := after.newTab(t, b.remembered)
		got := c.desk.Open()
		if saved && (!got.State.Equal(now) || got.UndoWords() != undo || got.RedoWords() != redo) {
			t.Fatalf("it said saved, but a reload has undo %q for %q, redo %q for %q", got.UndoWords(), undo, got.RedoWords(), redo)
		}
		if !got.State.Equal(before) && !got.State.Equal(now) {
			t.Fatal("what comes back is neither the last step nor the one before it")
		}
		b.let() // the disk answers before the next thing is done
		if b.desk.Saved().State != SavedAll {
			t.Fatal("the disk has answered, and the page does not say saved")
		}
		before = now
	}
}

// edit does one thing to the open document, or takes one back.
func (b *tab) edit(random *rand.Rand) {
	b.t.Helper()
	palettes, orders := []string{"earth", "lemon", "arylide"}, []string{"ymc", "cmy", "mcy"}
	doc := b.desk.Open()
	var err error
	switch random.IntN(8) {
	case 0:
		doc.Undo()
	case 1:
		doc.Redo()
	case 2:
		err = doc.Do(command.Order{Order: orders[random.IntN(3)]}, "")
	case 3:
		um := float64(random.IntN(500))
		err = doc.Do(command.Nudge{Printer: "cyan", DX: &um}, "drag")
	case 4:
		err = doc.Do(command.Place{Source: 0, Pose: session.Pose{DX: float64(random.IntN(9))}}, "")
	case 5:
		err = doc.Do(command.Pin{Source: 1, X: float64(random.IntN(testW)), Y: 1}, "")
	default:
		err = doc.Do(command.Palette{ID: palettes[random.IntN(3)]}, "")
	}
	if err != nil {
		b.t.Fatal(err)
	}
}
