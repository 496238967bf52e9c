package desk

import (
	"encoding/json"
	"slices"
	"strings"
	"time"
)

// Card is what the list of kept sets shows of a document.
type Card struct {
	ID        string     `json:"id"`
	Title     string     `json:"title"`
	Began     time.Time  `json:"began"`
	Changed   time.Time  `json:"changed"`
	Origin    string     `json:"origin,omitempty"`
	Options   Options    `json:"options"`
	Scans     []CardFile `json:"scans"`
	Sources   [3]content `json:"sources"` // what its plates are known by
	ScansKept bool       `json:"scans_kept"`
	Copy      bool       `json:"copy,omitempty"`
	Removed   bool       `json:"removed,omitempty"` // taken off the list; it can be put back there
	Thumb     string     `json:"thumb,omitempty"`   // a data URL

	Gathered *[3]string `json:"gathered,omitempty"` // of a set that is not whole: the SHA-256 of its plates by filter, "" where one is missing
	Thumbs   *[3]string `json:"thumbs,omitempty"`   // small pictures of those plates, as data URLs
}

// CardFile is one of the scans.
type CardFile struct {
	Name   string `json:"name"`
	Size   int64  `json:"size"` // bytes
	SHA256 string `json:"sha256"`
}

// Bytes is how much the scans of a card take where they are kept.
func (k Card) Bytes() int64 {
	var n int64
	for _, f := range k.Scans {
		n += f.Size
	}
	return n
}

// pick returns the card's files out of those at hand, in the card's order, or nil
// where one is missing.
func (k Card) pick(at []File) []File {
	var out []File
	for _, want := range k.Scans {
		i := slices.IndexFunc(at, func(f File) bool { return f.Key == want.SHA256 })
		if i < 0 {
			return nil
		}
		out = append(out, File{Key: at[i].Key, Name: want.Name, Size: at[i].Size})
	}
	return out
}

// cardOf makes the card of a document as it stands.
func (d *Desk) cardOf(doc *Document) Card {
	k := Card{
		ID: doc.ID, Title: doc.Title, Began: doc.began, Changed: d.now(), Origin: doc.origin, Options: doc.Options,
		Sources: marksOfContent(&doc.State), ScansKept: doc.scansKept, Copy: doc.isCopy, Thumb: doc.thumb,
	}
	for _, f := range doc.Scans {
		k.Scans = append(k.Scans, CardFile{Name: f.Name, Size: f.Size, SHA256: doc.hashOf(f)})
	}
	return k
}

// hashOf is the SHA-256 of one of the document's files: its source knows it by the
// file's name, or by its place where names are the same.
func (doc *Document) hashOf(f File) string {
	if len(doc.Scans) == 1 { // all sources are parts of it, under names of their own
		return doc.Sources[0].SHA256
	}
	place := slices.IndexFunc(doc.Scans, func(g File) bool { return g.Key == f.Key })
	if len(doc.Scans) == len(doc.Sources) && doc.Sources[place].File == f.Name {
		return doc.Sources[place].SHA256
	}
	for _, s := range doc.Sources {
		if s.File == f.Name {
			return s.SHA256
		}
	}
	return ""
}

// Cards are the kept documents, the one changed last first; those taken off the
// list come with them, marked.
func (d *Desk) Cards() []Card {
	out := slices.DeleteFunc(slices.Clone(d.cards), func(k Card) bool { return d.gathering != nil && k.ID == d.gathering.ID })
	slices.SortStableFunc(out, func(a, b Card) int { return b.Changed.Compare(a.Changed) })
	return out
}

func (d *Desk) card(id string) (Card, bool) {
	i := slices.IndexFunc(d.cards, func(k Card) bool { return k.ID == id })
	if i < 0 {
		return Card{}, false
	}
	return d.cards[i], true
}

// putCard notes a card in the list.
func (d *Desk) putCard(k Card) {
	if i := slices.IndexFunc(d.cards, func(old Card) bool { return old.ID == k.ID }); i >= 0 {
		d.cards[i] = k
		return
	}
	d.cards = append(d.cards, k)
}

// Remove takes a document off the list. It stays in the store until it is
// forgotten for good, and Restore has it back.
func (d *Desk) Remove(id string) { d.setRemoved(id, true) }

func (d *Desk) setRemoved(id string, removed bool) {
	k, ok := d.card(id)
	if !ok || k.Removed == removed || removed && d.open != nil && d.open.ID == id {
		return
	}
	k.Removed = removed
	d.putCard(k)
	d.order(Store{ID: id, Put: []Record{k.record()}, Delete: []Key{}})
}

// Forget deletes a document that was taken off the list, and those of its scans
// that no other one needs, unless another tab has it open.
func (d *Desk) Forget(id string) {
	if k, ok := d.card(id); ok && k.Removed {
		d.forgetting = id
		d.order(Lock{id})
	}
}

// forget deletes a document that this tab has the lock of. The scans of use stay.
func (d *Desk) forget(id string, use ...File) {
	k, ok := d.card(id)
	if !ok {
		return
	}
	d.cards = slices.DeleteFunc(d.cards, func(c Card) bool { return c.ID == id })
	gone := []Key{{storeCards, id}, {storeHeads, id}, {storeHeads, leftName(id)}}
	for _, f := range k.Scans {
		if len(use) == 0 && f.SHA256 != "" && !d.needs(f.SHA256) {
			gone = append(gone, Key{storeScans, f.SHA256})
		}
	}
	d.order(Store{ID: id, Put: []Record{}, Delete: gone, AllSteps: true})
}

// needs tells whether a kept set has a scan.
func (d *Desk) needs(sha256 string) bool {
	return slices.ContainsFunc(d.cards, func(k Card) bool {
		return slices.ContainsFunc(k.Scans, func(f CardFile) bool { return f.SHA256 == sha256 })
	})
}

// Refresh takes the cards as another tab has left them. Those that this tab has
// changed itself are stored, so that what is read is what holds.
func (d *Desk) Refresh(texts []string) {
	d.cards = readCards(texts)
	if doc := d.open; doc != nil && doc.keeping.card != "" {
		if _, there := d.card(doc.ID); !there {
			d.putCard(d.cardOf(doc))
		}
	}
}

// readCards reads the cards that can be read.
func readCards(texts []string) []Card {
	var out []Card
	for _, text := range texts {
		var k Card
		if json.Unmarshal([]byte(text), &k) == nil && k.ID != "" && !strings.Contains(k.ID, "/") {
			out = append(out, k)
		}
	}
	return out
}

func (k Card) record() Record {
	text, _ := json.Marshal(k) // a card is plain data
	return Record{Key{storeCards, k.ID}, string(text)}
}
