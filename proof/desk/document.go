package desk

import (
	"encoding/json"
	"time"

	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// Document is one set of plates and all that was decided on it.
type Document struct {
	ID string
	*command.History
	Plates [3][]*plane.Plane // by source: the density plane, then ever smaller halves of it
	Scans  []File            // the files that the plates came from
	Options
	Asked bool // the names of the files do not say which plate is which, and nobody has said yet
	Left  Leftover

	origin    string // originDemo or ""
	began     time.Time
	isCopy    bool // of a document that another tab has open
	scansKept bool // the files can be had back from the browser
	sight     json.RawMessage
	thumb     string
	lefts     int      // counts the leftovers: which one Left is
	read      Readings // how the codes of Plates are read
	planes    int      // counts the readings of the plates: which ones Plates are
	touched   int      // counts the changes beside the history's own
	keeping   keeping
}

// File is a file that the page holds for the desk under a key.
type File struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Size int64  `json:"size"` // bytes
}

// Options are how scans are read; "" leaves a choice to the reader. See
// plate.Options.
type Options struct {
	Layout string `json:"layout,omitempty"`
	Order  string `json:"order,omitempty"`
}

// originDemo marks the documents whose scans are those of the demonstration set.
const originDemo = "demo"

// Leftover is what the last register left beside its matrices. It lies beside the
// history, which it would burden, and counts only while the session has what that
// register found.
type Leftover struct {
	registration.Registration
	Assign [3]int // as it was then
}

// Touched tells whether there is anything to undo or to redo.
func (doc *Document) Touched() bool { return doc.UndoWords() != "" || doc.RedoWords() != "" }

// Demo tells whether the document shows the demonstration set.
func (doc *Document) Demo() bool { return doc.origin == originDemo }

// Copy tells whether the document is a copy of one that another tab had open.
func (doc *Document) Copy() bool { return doc.isCopy }

// SetSight keeps how the document is looked at, a text of the page's own, so that
// a reload comes back to it.
func (doc *Document) SetSight(text json.RawMessage) {
	if string(text) != string(doc.sight) {
		doc.sight = append(json.RawMessage(nil), text...)
		doc.touched++
	}
}

// Sight is what SetSight was last given, nil for nothing.
func (doc *Document) Sight() json.RawMessage { return doc.sight }

// SetThumb keeps a small picture of the print, as a data URL, for the list of
// kept sets.
func (doc *Document) SetThumb(url string) {
	if url != doc.thumb {
		doc.thumb = url
		doc.touched++
	}
}

// SetAsked notes whether the user is still to be asked which plate is which.
func (doc *Document) SetAsked(asked bool) {
	if asked != doc.Asked {
		doc.Asked = asked
		doc.touched++
	}
}

// Lefts counts the leftovers of registers, so that another one is noticed.
func (doc *Document) Lefts() int { return doc.lefts }

// Planes counts the readings of the plates, so that others are noticed.
func (doc *Document) Planes() int { return doc.planes }

// revision grows with every change of what is kept.
func (doc *Document) revision() int { return doc.Revision() + doc.touched }

// worthKeeping is false for what can be had again as it is: the demonstration set
// and copies, as long as nothing was done on them.
func (doc *Document) worthKeeping() bool {
	if doc.isCopy {
		return doc.Revision() > 0
	}
	return doc.Touched() || !doc.Demo()
}

// marksOfContent are what the sources are known by: the content of their file and
// which part of it they are.
func marksOfContent(s *session.State) [3]content {
	var out [3]content
	for i, src := range s.Sources {
		out[i] = content{src.SHA256, src.Part}
	}
	return out
}

// content is what one source is known by.
type content struct {
	SHA256 string `json:"sha256"`
	Part   int    `json:"part"`
}

// arrange finds for each content of want its place in have; ok is false where they
// are not the same three, or not known.
func arrange(want, have [3]content) (at [3]int, ok bool) {
	var taken [3]bool
	for i, w := range want {
		at[i] = -1
		for k, h := range have {
			if !taken[k] && w == h && w.SHA256 != "" {
				at[i], taken[k] = k, true
				break
			}
		}
		if at[i] < 0 {
			return at, false
		}
	}
	return at, true
}
