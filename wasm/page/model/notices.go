package model

import "threeply/proof/desk"

// Notices are what the desk has to tell: messages, the work under way, how the open
// document is kept, and the other kept ones.
type Notices struct {
	Messages []desk.Message `json:"messages"`
	Jobs     []desk.Job     `json:"jobs"`
	Saved    desk.Saved     `json:"saved"`
	Idle     bool           `json:"idle"`          // nothing is being opened, computed or kept
	ReadAs   desk.Options   `json:"readAs"`        // how the scans were read
	Kept     []KeptSet      `json:"kept"`          // the one changed last first
	Gathered []LonePlate    `json:"gathered"`      // the places of a set that is not open yet, by filter; none where no set is gathered
	Whole    bool           `json:"gatheredWhole"` // all its plates are at hand
}

// LonePlate is a place of a set that is not open yet; Name is "" where its plate is missing.
type LonePlate struct {
	Name  string `json:"name"`  // of its file
	Thumb string `json:"thumb"` // the plate small, as a data URL
}

// KeptSet is a set of plates that the browser keeps.
type KeptSet struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Words   string `json:"words"`   // when it was worked on, and how much is kept of it
	Thumb   string `json:"thumb"`   // a small picture of the print as a data URL, "" for none
	Removed bool   `json:"removed"` // taken off the list
	Open    bool   `json:"open"`    // it is the open one
}
