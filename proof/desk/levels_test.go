package desk

import (
	"testing"

	"threeply/proof/session"
)

// Register brings the films of the three plates together. A grey scale that it sees is
// proposed; in the demonstration set alone it is taken.
func TestRegisterBringsFilms(t *testing.T) {
	b := newDisk().newTab(t, "")
	if n := b.desk.Open().Neutral; !b.desk.Open().Demo() || n.By != session.ByScale || len(n.Greys) != 3 || b.desk.Open().Sources[0].Film.Gamma != 0.7 {
		t.Errorf("the demonstration set rests on %+v", n)
	}
	b.drop(set("one")...)
	doc := b.desk.Open()
	if doc.Neutral.By != session.ByLight || doc.Left.Scale == nil || doc.Touched() {
		t.Errorf("%+v, a scale proposed: %v, something to undo: %v", doc.Neutral, doc.Left.Scale, doc.Touched())
	}
	b.desk.Refine(0)
	b.run()
	if doc.Left.Scale == nil {
		t.Error("measuring one plate again forgot the scale that is proposed")
	}
}
