package desk

import "encoding/json"

// Order is something that the desk wants done outside. In JSON each order names
// itself as "do".
type Order interface{ name() string }

// Work has a worker carry out an operation. It is answered by Progress, Arrive,
// and in the end by Done or Failed.
type Work struct {
	Token Token    `json:"token"`
	Op    string   `json:"op"`              // what the worker calls it
	Files []string `json:"files,omitempty"` // keys of the files that it reads, see File
	Text  string   `json:"session,omitempty"`
	More  any      `json:"more,omitempty"` // what else the operation takes
}

// Halt ends the worker of a job at once.
type Halt struct {
	Token Token `json:"token"`
}

// Store writes and deletes records of a document, all or none of them. It is
// answered by Stored.
type Store struct {
	ID       string   `json:"id"`
	Revision int      `json:"revision"` // of the document, 0 where only its card changes
	Put      []Record `json:"put"`
	Delete   []Key    `json:"delete"`
	AllSteps bool     `json:"allSteps,omitempty"` // delete all steps of the document too
}

// KeepScans stores files under the SHA-256 of their content, so that a file that
// several documents use is kept once. It is answered by ScansKept.
type KeepScans struct {
	ID    string     `json:"id"` // of the document
	Files []KeptFile `json:"files"`
}

// KeptFile is a file that lies at the page under Key and is kept as SHA256.
type KeptFile struct {
	Key    string `json:"key"`
	SHA256 string `json:"sha256"`
}

// Load reads the records of a document. It is answered by Record, for each, and
// Loaded.
type Load struct {
	ID string `json:"id"`
}

// Lock asks for a document that no other tab may open meanwhile. It is answered
// by Locked.
type Lock struct {
	ID string `json:"id"`
}

// Unlock lets another tab have it.
type Unlock struct {
	ID string `json:"id"`
}

// FetchDemo fetches the files of the demonstration set. It is answered by
// DemoFetched or Failed.
type FetchDemo struct {
	Token Token `json:"token"`
}

// Remember has this tab come back to a document when it is loaded again.
type Remember struct {
	ID string `json:"id"`
}

func (Work) name() string      { return "work" }
func (Halt) name() string      { return "halt" }
func (Store) name() string     { return "store" }
func (KeepScans) name() string { return "keepScans" }
func (Load) name() string      { return "load" }
func (Lock) name() string      { return "lock" }
func (Unlock) name() string    { return "unlock" }
func (FetchDemo) name() string { return "fetchDemo" }
func (Remember) name() string  { return "remember" }

// AllOrders lists every order by its zero value under its name, for the types of the
// page's scripts.
func AllOrders() (names []string, values []any) {
	for _, o := range []Order{Work{}, Halt{}, Store{}, KeepScans{}, Load{}, Lock{}, Unlock{}, FetchDemo{}, Remember{}} {
		names, values = append(names, o.name()), append(values, o)
	}
	return names, values
}

// Record is a text in one of the stores that outlive the page.
type Record struct {
	Key
	Text string `json:"text"`
}

// Key is the place of a record: a store and a name in it.
type Key struct {
	Store string `json:"store"`
	Name  string `json:"name"`
}

// The stores that the page keeps.
const (
	storeCards = "cards" // by document: what the list of kept sets shows
	storeHeads = "heads" // by document: where its history stands, and what register left
	storeSteps = "steps" // by document and number: one step of its history
	storeScans = "scans" // by SHA-256: the files themselves
)

// order notes what is to be done outside.
func (d *Desk) order(o Order) { d.orders = append(d.orders, o) }

// Orders hands out what is to be done outside, in order, and forgets it.
func (d *Desk) Orders() []Order {
	out := d.orders
	d.orders = nil
	return out
}

// OrdersText is Orders as a JSON list, each with its name as "do".
func (d *Desk) OrdersText() (string, error) {
	list := []any{}
	for _, o := range d.Orders() {
		list = append(list, struct {
			Do   string `json:"do"`
			With Order  `json:"with"`
		}{o.name(), o})
	}
	out, err := json.Marshal(list)
	return string(out), err
}
