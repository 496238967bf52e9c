package desk

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"threeply/proof/command"
	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/place"
	"threeply/proof/session"
)

// levelling is what films are being found by: what is wanted, and the state that it
// was wanted of.
type levelling struct {
	want    levels.Want
	of      session.State // see filmsStandOn
	gesture string        // of the step that it belongs to, "" for one of its own
}

// filmsStandOn is all of a state that films are found from.
func filmsStandOn(s *session.State) session.State {
	return session.State{
		Sources: s.Sources, Assign: s.Assign, Neutral: s.Neutral, Found: s.Found, FoundKey: s.FoundKey,
		Local: s.Local, LocalOn: s.LocalOn, LocalOff: s.LocalOff, Key: s.Key, Marks: s.Marks, By: s.By, MarkShare: s.MarkShare,
	}
}

// Greys are the places that the open document's films rest on, in pixels of the key,
// with those that are being read.
func (d *Desk) Greys() session.Neutral {
	if d.open == nil {
		return session.Neutral{}
	}
	if j := d.levelling(); j != nil && j.levels.want.Line == nil {
		return j.levels.want.Neutral
	}
	n := d.open.Neutral
	spots, err := levels.Spots(&d.open.State, n)
	if err != nil {
		spots = nil
	}
	n.Greys, n.Key = spots, d.open.Key
	return n
}

// levelling is the job that finds films, nil for none.
func (d *Desk) levelling() *Job {
	i := slices.IndexFunc(d.jobs, func(j *Job) bool { return j.levels != nil && d.onOpen(j) })
	if i < 0 {
		return nil
	}
	return d.jobs[i]
}

// Point has the films found by one grey more, at a place of the key.
func (d *Desk) Point(at session.Spot) {
	n := d.Greys()
	greys := append(slices.Clone(n.Greys), at)
	d.level(levels.Want{Neutral: session.Neutral{By: session.ByGreys, Greys: greys, Key: n.Key}})
}

// Lay has them found by a grey scale along a line of the key.
func (d *Desk) Lay(from, to session.Spot) {
	d.level(levels.Want{Neutral: session.Neutral{By: session.ByScale}, Line: &[2]session.Spot{from, to}})
}

// TakeGreyAway has them found without one of the greys; without the last, by the
// assumption that is made of a picture that shows none.
func (d *Desk) TakeGreyAway(i int) {
	n := d.Greys()
	if i < 0 || i >= len(n.Greys) {
		return
	}
	greys := slices.Delete(slices.Clone(n.Greys), i, i+1)
	if len(greys) == 0 {
		d.TakeGreysAway()
		return
	}
	d.level(levels.Want{Neutral: session.Neutral{By: session.ByGreys, Greys: greys, Key: n.Key}})
}

// TakeGreysAway has them found without any grey.
func (d *Desk) TakeGreysAway() {
	d.level(levels.Want{Neutral: session.Neutral{By: session.ByLight, Light: light.Default}})
}

// ReadGreys has the greys read again, as the plates lie now: those of a scale with what is
// known of its steps, as neutral.ReadSteps reads it. The error is its, or that of a scale
// with another number of greys.
func (d *Desk) ReadGreys(steps string) error {
	n := d.Greys()
	if len(n.Greys) == 0 {
		return nil
	}
	want := session.Neutral{By: n.By, Greys: n.Greys, Key: n.Key}
	var err error
	if want.Step, want.Densities, err = neutral.ReadSteps(steps); err != nil {
		return err
	}
	if k := len(want.Densities); k > 0 && k != len(n.Greys) {
		return fmt.Errorf("there are %d greys, and %d densities were given: give one for each, or the density between neighbours alone", len(n.Greys), k)
	}
	if want.Absolute() {
		want.By = session.ByScale
	} else if want.By != session.ByScale {
		want.By = session.ByGreys
	}
	d.level(levels.Want{Neutral: want})
	return nil
}

// findAgain has films found once more by what they rest on, in the step of a gesture;
// figures that the user set stay.
func (d *Desk) findAgain(gesture string) {
	switch n := d.open.Neutral; n.By {
	case session.ByGreys, session.ByScale:
		now := d.Greys()
		d.levelIn(gesture, levels.Want{Neutral: session.Neutral{By: n.By, Greys: now.Greys, Key: now.Key, Step: n.Step, Densities: n.Densities}})
	case session.ByLight:
		d.levelIn(gesture, levels.Want{Neutral: session.Neutral{By: n.By, Light: n.Light, Chosen: n.Chosen}})
	}
}

// Assume has them found by an assumption on the light of the scene, or, where none
// is named, each plate by itself.
func (d *Desk) Assume(id string) error {
	if id == "" {
		d.level(levels.Want{Neutral: session.Neutral{By: session.ByOwn, Chosen: true}})
		return nil
	}
	if _, ok := light.AssumptionByID(id); !ok {
		return fmt.Errorf("there is no assumption “%.20s” on the light", id)
	}
	d.level(levels.Want{Neutral: session.Neutral{By: session.ByLight, Light: id, Chosen: true}})
	return nil
}

// Scale is the grey scale that register saw in the picture, as the open plates lie; nil
// for none, and for one that the user dismissed.
func (d *Desk) Scale() *levels.Levels {
	if doc := d.open; doc != nil && doc.Left.Found == doc.Found && doc.Left.Assign == doc.Assign && !doc.NoScale {
		return doc.Left.Scale
	}
	return nil
}

// TakeScale takes the films of the scale that register saw.
func (d *Desk) TakeScale() error {
	if l := d.Scale(); l != nil {
		if j := d.levelling(); j != nil {
			d.end(j.Token)
		}
		return d.takeFilms(*l, "")
	}
	return nil
}

func (d *Desk) level(w levels.Want) { d.levelIn("", w) }

// levelIn has films found in the step of a gesture.
func (d *Desk) levelIn(gesture string, w levels.Want) {
	doc := d.open
	if doc == nil {
		return
	}
	pointed := len(w.Neutral.Greys) > 0 || w.Line != nil
	if pointed && !place.Laid(&doc.State) {
		d.Tell("The plates are not registered yet, and a grey must lie on the same place in all three. Point again once they are.")
		return
	}
	if j := d.levelling(); j != nil {
		d.end(j.Token) // what it was to read is read again; its worker is soon done, and is not ended
	}
	text, err := session.Write(doc.State)
	if err != nil {
		d.Complain(d.sentence(err))
		return
	}
	doing := "Reading the greys"
	if !pointed {
		doing = "Looking at the light of the scene"
	}
	j := d.begin(&Job{Kind: Levelling, Words: doing})
	j.levels = &levelling{w, filmsStandOn(&doc.State), gesture}
	d.order(Work{Token: j.Token, Op: "levels", Text: string(text), More: w})
}

// Levelled takes the answer to Work “levels”, a levels.Levels as JSON. Where the
// plates were laid otherwise meanwhile, it is read once more; where the films were
// changed, they stay as the user left them.
func (d *Desk) Levelled(t Token, text string) error {
	j := d.end(t)
	if j == nil || j.levels == nil {
		return nil
	}
	if now, then := filmsStandOn(&d.open.State), j.levels.of; !now.Equal(then) {
		sameFilms := reflect.DeepEqual(now.Sources, then.Sources) && reflect.DeepEqual(now.Neutral, then.Neutral)
		if now.Key == then.Key && now.Assign == then.Assign && (sameFilms || !now.Neutral.ByUser()) {
			d.levelIn(j.levels.gesture, j.levels.want)
			return nil
		}
		d.Tell("The plates were changed while greys were being read, so white, black and contrast stay as they are.")
		return nil
	}
	var l levels.Levels
	if err := json.Unmarshal([]byte(text), &l); err != nil {
		return d.refuse(err)
	}
	return d.takeFilms(l, j.levels.gesture)
}

func (d *Desk) takeFilms(l levels.Levels, gesture string) error {
	if err := d.open.Do(command.Films(l), gesture); err != nil {
		return d.refuse(err)
	}
	d.forgive(Levelling)
	d.Keep()
	return nil
}
