package model

// Notices are what the user is told of the work under way.
type Notices struct {
	Busy     *Busy     `json:"busy"`
	Messages []Message `json:"messages"`
}

// Busy is work that takes longer than a frame.
type Busy struct {
	What   string  `json:"what"`
	Share  float64 `json:"share"`
	Cancel bool    `json:"cancel"`
}

// Message stands until it is dismissed.
type Message struct {
	ID   int    `json:"id"`
	Kind string `json:"kind"` // "error" or "note"
	Text string `json:"text"`
}
