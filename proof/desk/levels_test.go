package desk

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/levels"
	"threeply/proof/session"
)

// findFilms answers as the worker does: a grey more makes the γ of every film larger
// by a tenth, so that it is seen which greys were read.
func (b *tab) findFilms(o Work) {
	b.t.Helper()
	s, err := session.Read("the test", []byte(o.Text))
	if err != nil {
		b.t.Fatal(err)
	}
	w := o.More.(levels.Want)
	l := levels.Own(&s)
	l.Neutral = w.Neutral
	if w.Line != nil {
		l.Neutral.Greys, l.Neutral.Key = []session.Spot{w.Line[0], {X: 3, Y: 3}, w.Line[1]}, s.Key
	}
	for i := range l.Films {
		l.Films[i].Gamma = 0.8 + 0.1*float64(len(l.Neutral.Greys))
	}
	text, err := json.Marshal(l)
	if err != nil {
		b.t.Fatal(err)
	}
	if err := b.desk.Levelled(o.Token, string(text)); err != nil {
		b.t.Error(err)
	}
}

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

// A grey scale is looked for once the plates are registered, and nothing waits for it: what was
// seen of plates that were put away, or lie otherwise by now, is of no use; and where the page was
// closed meanwhile, it is looked for again.
func TestScaleIsLookedForBesideTheWork(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.holds = "look"
	b.drop(set("one")...)
	doc := b.desk.Open()
	if doc.Registered != "auto" || doc.Left.Looked || len(b.desk.Jobs()) != 1 {
		t.Fatalf("registered %q, looked %t, %d jobs", doc.Registered, doc.Left.Looked, len(b.desk.Jobs()))
	}
	b.do(command.Palette{ID: "earth"})
	b.close()

	b = d.newTab(t, b.remembered)
	if doc := b.desk.Open(); doc.Left.Scale == nil || doc.Left.Blur[2] != 3 || doc.Palette != "earth" {
		t.Errorf("after a reload: scale %v, blur %v, palette %q", doc.Left.Scale, doc.Left.Blur, doc.Palette)
	}
	b.close()
	b = d.newTab(t, b.remembered)
	b.holds = "look"
	b.run()
	if len(b.held) != 0 || b.desk.Open().Left.Scale == nil {
		t.Error("what was seen is not kept")
	}

	b.drop(set("two")...)
	b.desk.Stop(b.desk.Jobs()[0].Token)
	b.run()
	if doc := b.desk.Open(); doc.Registered != "auto" || len(b.desk.Jobs()) != 0 || len(b.desk.Messages()) != 1 {
		t.Errorf("a look that was stopped: registered %q, %d jobs, %v", doc.Registered, len(b.desk.Jobs()), b.desk.Messages())
	}
	b.let()
	if b.desk.Open().Left.Looked {
		t.Error("a look that was stopped is taken")
	}

	b.holds = "look"
	b.drop(set("three")...)
	b.drop(set("four")...)
	first := b.held[0]
	b.held = b.held[1:]
	first()
	if doc := b.desk.Open(); doc.Left.Looked {
		t.Error("what was seen of one set is taken for another")
	}
	b.let()
	if doc := b.desk.Open(); doc.Left.Scale == nil {
		t.Error("nothing was seen of the set that is open")
	}
}

// Each grey that is pointed at counts with those before, is one step of undo, and can
// be taken away by itself.
func TestGreysOneByOne(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("one")...)
	doc := b.desk.Open()
	point := func(x float64) { b.desk.Point(session.Spot{X: x, Y: 2}) }
	b.holds = "levels"
	point(1)
	b.run()
	if got := b.desk.Greys(); len(got.Greys) != 1 || len(doc.Neutral.Greys) != 0 {
		t.Errorf("while it is being read the greys are %+v, the session's %+v", got.Greys, doc.Neutral.Greys)
	}
	point(2) // before the first is read
	b.run()
	b.let()
	if len(doc.Neutral.Greys) != 2 || doc.Neutral.By != session.ByGreys || doc.Sources[1].Film.Gamma != 1 {
		t.Fatalf("two greys: %+v, γ %g", doc.Neutral, doc.Sources[1].Film.Gamma)
	}
	point(3)
	b.run()
	b.desk.TakeGreyAway(1)
	b.run()
	if g := doc.Neutral.Greys; len(g) != 2 || g[0].X != 1 || g[1].X != 3 {
		t.Errorf("without the second: %+v", g)
	}
	for _, want := range []int{3, 2, 0} {
		if err := doc.Undo(); err != nil || len(doc.Neutral.Greys) != want {
			t.Errorf("undone: %+v, want %d (%v)", doc.Neutral.Greys, want, err)
		}
	}
	if doc.Neutral.By != session.ByLight || doc.Touched() && doc.UndoWords() != "" {
		t.Errorf("at the beginning: %+v, undo %q", doc.Neutral, doc.UndoWords())
	}
	if err := doc.Redo(); err != nil {
		t.Fatal(err)
	}
	b.desk.TakeGreyAway(0)
	b.run()
	b.desk.TakeGreyAway(0)
	b.run()
	if n := doc.Neutral; n.By != session.ByLight || len(n.Greys) != 0 || n.Chosen {
		t.Errorf("without the last: %+v", n)
	}
}

func TestScalesAndAssumptions(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("one")...)
	doc := b.desk.Open()
	b.desk.Lay(session.Spot{X: 1, Y: 1}, session.Spot{X: 6, Y: 1})
	b.run()
	if n := doc.Neutral; n.By != session.ByScale || len(n.Greys) != 3 || n.Step != 0 {
		t.Errorf("%+v", n)
	}
	if err := b.desk.ReadGreys("0.15"); err != nil {
		t.Fatal(err)
	}
	b.run()
	if n := doc.Neutral; n.By != session.ByScale || len(n.Greys) != 3 || n.Step != 0.15 {
		t.Errorf("with its steps known: %+v", n)
	}
	if err := b.desk.ReadGreys("0.9 0.35 0.05"); err != nil {
		t.Fatal(err)
	}
	b.run()
	if n := doc.Neutral; n.By != session.ByScale || n.Step != 0 || !slices.Equal(n.Densities, []float64{0.05, 0.35, 0.9}) {
		t.Errorf("with the density of each step: %+v", n)
	}
	if err := b.desk.ReadGreys("0.1 0.2 0.3 0.4"); err == nil || !strings.Contains(err.Error(), "3 greys") {
		t.Errorf("four densities of three greys: %v", err)
	}
	if err := b.desk.Assume("grey-world"); err != nil {
		t.Fatal(err)
	}
	b.run()
	if n := doc.Neutral; n.By != session.ByLight || n.Light != "grey-world" || !n.Chosen || len(n.Greys) != 0 {
		t.Errorf("%+v", n)
	}
	b.desk.Register() // what the user chose stays
	b.run()
	if n := doc.Neutral; n.Light != "grey-world" || !n.Chosen {
		t.Errorf("after register: %+v", n)
	}
	if err := b.desk.Assume("moonlight"); err == nil {
		t.Error("an assumption that nobody made was taken")
	}
	if err := doc.Do(command.DismissScale{}, ""); err != nil || b.desk.Scale() != nil {
		t.Errorf("a scale that was dismissed is proposed: %v", err)
	}
	if err := doc.Undo(); err != nil || b.desk.Scale() == nil {
		t.Errorf("a scale whose dismissal was undone is not proposed: %v", err)
	}
	if err := b.desk.TakeScale(); err != nil || doc.Neutral.By != session.ByScale || doc.Sources[0].Film.Gamma != 0.7 {
		t.Errorf("the scale that was proposed: %+v (%v)", doc.Neutral, err)
	}
	if err := doc.Do(command.Place{Source: 0, Pose: session.Pose{DX: 3}}, ""); err != nil {
		t.Fatal(err)
	}
	if b.desk.Scale() != nil {
		t.Error("a scale is proposed of plates that lie otherwise")
	}
}

// A late answer replaces nothing that the user did meanwhile, and no other set; where
// only the place of a plate changed, the greys are read once more.
func TestLateGreys(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("one")...)
	doc := b.desk.Open()
	b.holds = "levels"
	b.desk.Point(session.Spot{X: 1, Y: 2})
	b.run()
	if err := doc.Do(command.Gamma{Source: 0, Value: 0.65}, ""); err != nil {
		t.Fatal(err)
	}
	b.let()
	if doc.Sources[0].Film.Gamma != 0.65 || len(doc.Neutral.Greys) != 0 {
		t.Errorf("the γ that was set is gone: %+v", doc.Neutral)
	}
	if err := b.said("stay as they are"); err != nil {
		t.Error(err)
	}
	b.holds = "levels"
	b.desk.Point(session.Spot{X: 1, Y: 2})
	b.run()
	if err := doc.Do(command.Place{Source: 0, Pose: session.Pose{DX: 3}}, ""); err != nil {
		t.Fatal(err)
	}
	b.let()
	if len(doc.Neutral.Greys) != 1 {
		t.Errorf("the grey is lost because a plate was laid otherwise: %+v", doc.Neutral)
	}
	b.holds = "levels"
	b.desk.Point(session.Spot{X: 4, Y: 2})
	b.run()
	b.drop(set("two")...)
	b.let()
	if now := b.desk.Open(); now == doc || len(now.Neutral.Greys) != 0 || len(doc.Neutral.Greys) != 1 {
		t.Errorf("a grey of one set came to another: %+v, %+v", now.Neutral, doc.Neutral)
	}
	if len(b.desk.Jobs()) != 0 {
		t.Errorf("still under way: %+v", b.desk.Jobs())
	}
}

// Greys of plates that do not lie over each other yet would be read beside each other.
func TestGreysWaitForRegister(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.holds = "register"
	b.drop(set("one")...)
	b.desk.Point(session.Spot{X: 1, Y: 2})
	b.run()
	if err := b.said("not registered yet"); err != nil {
		t.Error(err)
	}
	b.let()
	b.desk.Point(session.Spot{X: 1, Y: 2})
	b.run()
	if n := b.desk.Open().Neutral; len(n.Greys) != 1 {
		t.Errorf("once they are registered: %+v", n)
	}
}
