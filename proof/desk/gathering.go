package desk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"threeply/proof/filter"
	"threeply/proof/plate"
)

// Gathering is a set whose plates come one by one. It is kept until all three are there.
type Gathering struct {
	ID     string
	Began  time.Time
	Plates [3]Gathered // by filter
}

// Gathered is a plate in its place; SHA256 is "" where it is missing. Key is "" where its
// file is not at hand, for the browser has not given it back. Thumb is the plate small,
// as a data URL.
type Gathered struct {
	File
	SHA256 string
	Thumb  string
}

// Gathering is the set that is gathered now, nil for none.
func (d *Desk) Gathering() *Gathering { return d.gathering }

// Alone takes the answer to Work “open” where the files are plates of a set that is not
// whole: each is put into its place and kept. What is open stays.
func (d *Desk) Alone(t Token, plates []plate.Lone) {
	c := d.coming
	if d.end(t) == nil || c == nil || c.token != t || len(plates) != len(c.files) {
		return
	}
	if d.gathering == nil {
		d.gathering = &Gathering{ID: d.newID(), Began: d.now()}
	}
	d.gathersAnew()
	for i, one := range plates {
		d.gather(c.files[i], one)
	}
	if d.gathering.Whole() {
		d.OpenGathered()
		return
	}
	d.keepGathering()
	d.say(Message{Kind: "note", Text: d.gathering.words(), gathers: true})
	d.openNothing()
}

// gather puts a plate into the place that its name tells, or the first that is free.
func (d *Desk) gather(f File, one plate.Lone) {
	g := d.gathering
	if i := g.place(one.SHA256); i >= 0 {
		g.Plates[i].File = f // perhaps it was not at hand
		return
	}
	at := one.Filter
	if at < 0 || g.Plates[at].SHA256 != "" {
		at = slices.IndexFunc(g.Plates[:], func(p Gathered) bool { return p.SHA256 == "" })
	}
	if at < 0 {
		d.Complain(fmt.Sprintf("%s is a fourth plate. Let one of the three go first.", f.Name))
		return
	}
	g.Plates[at] = Gathered{f, one.SHA256, one.Thumb}
}

func (g *Gathering) place(sha256 string) int {
	return slices.IndexFunc(g.Plates[:], func(p Gathered) bool { return p.SHA256 == sha256 })
}

// missing are the names of the plates that are not there, or not at hand.
func (g *Gathering) missing() []string {
	var out []string
	for i, p := range g.Plates {
		if p.Key == "" {
			out = append(out, filter.Filter(i).String())
		}
	}
	return out
}

func (g *Gathering) words() string {
	var there []string
	for i, p := range g.Plates {
		if p.SHA256 != "" {
			there = append(there, fmt.Sprintf("%s as the %s plate", p.Name, filter.Filter(i)))
		}
	}
	missing := g.missing()
	plates := "plate"
	if len(missing) > 1 {
		plates = "plates"
	}
	return fmt.Sprintf("Kept: %s. Still missing: the %s %s. Drop what comes; the set opens once it is whole.", sentenceOf(there), sentenceOf(missing), plates)
}

// MovePlate puts a gathered plate into another place; what lies there changes places with
// it. Places are filters.
func (d *Desk) MovePlate(from, to int) {
	g := d.gathering
	if g == nil || min(from, to) < 0 || max(from, to) > 2 || from == to {
		return
	}
	g.Plates[from], g.Plates[to] = g.Plates[to], g.Plates[from]
	d.gathersAnew()
	d.keepGathering()
}

// LetGo takes a plate out of the set that is gathered; with the last one the set is gone.
func (d *Desk) LetGo(at int) {
	g := d.gathering
	if g == nil || at < 0 || at > 2 || g.Plates[at].SHA256 == "" {
		return
	}
	gone := g.Plates[at].SHA256
	d.gathersAnew()
	g.Plates[at] = Gathered{}
	if slices.ContainsFunc(g.Plates[:], func(p Gathered) bool { return p.SHA256 != "" }) {
		d.keepGathering()
		if !d.needs(gone) {
			d.order(Store{ID: g.ID, Put: []Record{}, Delete: []Key{{storeScans, gone}}})
		}
		return
	}
	d.gathering = nil
	d.forget(g.ID)
}

// Whole tells whether all three plates are there and at hand: the set can be opened.
func (g *Gathering) Whole() bool { return g.missing() == nil }

// OpenGathered opens the set that is whole by now, for a user whose page was closed, or who
// stopped it, before it was open. It is kept as gathered until it is.
func (d *Desk) OpenGathered() {
	g := d.gathering
	if g == nil || !g.Whole() {
		return
	}
	d.gathersAnew()
	c := &coming{from: d.settings(), gathered: g.ID}
	for _, p := range g.Plates {
		c.files = append(c.files, p.File)
	}
	d.keepGathering()
	d.come(c)
}

// gatheredOpen lets go of the set that was gathered, once it is open; its scans stay.
func (d *Desk) gatheredOpen(c *coming) {
	if g := d.gathering; g != nil && c.gathered == g.ID {
		d.gathering = nil
		d.forget(g.ID, c.files...)
	}
}

// keepGathering has the gathered plates stored.
func (d *Desk) keepGathering() {
	g := d.gathering
	k := Card{ID: g.ID, Began: g.Began, Changed: d.now(), ScansKept: true, Gathered: &[3]string{}, Thumbs: &[3]string{}}
	o := KeepScans{ID: g.ID}
	var names []string
	for i, p := range g.Plates {
		k.Gathered[i], k.Thumbs[i] = p.SHA256, p.Thumb
		if p.SHA256 == "" {
			continue
		}
		names = append(names, p.Name)
		k.Scans = append(k.Scans, CardFile{Name: p.Name, Size: p.Size, SHA256: p.SHA256})
		if p.Key != "" {
			o.Files = append(o.Files, KeptFile{p.Key, p.SHA256})
		}
	}
	k.Title = strings.Join(names, ", ")
	d.putCard(k)
	d.order(Store{ID: k.ID, Put: []Record{k.record()}, Delete: []Key{}})
	d.order(o)
}

// takeUpGathering has a set that was gathered before go on; its files are asked for.
func (d *Desk) takeUpGathering(k Card) {
	g := &Gathering{ID: k.ID, Began: k.Began}
	for i, sha256 := range k.Gathered {
		for _, f := range k.Scans {
			if sha256 != "" && f.SHA256 == sha256 {
				g.Plates[i] = Gathered{File: File{Name: f.Name, Size: f.Size}, SHA256: sha256}
				if k.Thumbs != nil {
					g.Plates[i].Thumb = k.Thumbs[i]
				}
			}
		}
	}
	d.gathering = g
	d.order(Load{k.ID})
}

// gatheredLoaded takes the files of a set that was gathered before, keyed by their content. One
// that is whole was not open when the page was closed: it is offered.
func (d *Desk) gatheredLoaded(files []File) {
	for _, f := range files {
		if i := d.gathering.place(f.Key); i >= 0 {
			d.gathering.Plates[i].Key = f.Key
		}
	}
	if d.gathering.Whole() {
		d.say(Message{Kind: "note", Text: "All three plates of the set that waited for them are here.", Act: &Action{Words: "Open the set", Do: "openGathered"}, gathers: true})
	}
}
