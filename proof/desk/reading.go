package desk

import (
	"fmt"
	"slices"

	"threeply/proof/command"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// Readings say by source how the codes of a scan are read, as scan.Options take it: "" as
// its file says. What a session says of it, and how the planes at hand were made, must
// agree: where a step is gone to that reads a plate otherwise, its file is read first.
type Readings [3]string

// readingsOf are those that a state says.
func readingsOf(s *session.State) (r Readings) {
	for i := range s.Sources {
		r[i] = s.Sources[i].ChosenEncoding()
	}
	return r
}

// howRead is how files are read.
type howRead struct {
	Options
	Encodings []string `json:"encodings,omitempty"` // by file; "" as it says itself
	Measured  bool     `json:"measured,omitempty"`  // before: what they tell is kept
}

// byFile gives readings in the order of files with these contents. A file that holds
// three plates is read in one way.
func (r Readings) byFile(hashes []string, sources [3]content) []string {
	out := make([]string, len(hashes))
	for f, hash := range hashes {
		i := slices.IndexFunc(sources[:], func(c content) bool { return hash != "" && c.SHA256 == hash })
		if i < 0 {
			i = min(f, 2)
		}
		out[f] = r[i]
	}
	return out
}

// rereading is a job that reads the open scans in another way: what then is to be done.
type rereading struct {
	want Readings
	then func(fresh *session.State) error // fresh has the sources as they were read, in the document's order
	goes bool                             // then goes to another step, and counts only while nothing is changed
	at   int                              // revision of the history when it began
}

// ReadPlate has the codes of a plate read in another way, "" as its file says: one step,
// which Undo takes back. Plates of one file are read alike.
func (d *Desk) ReadPlate(source int, encoding string) {
	doc := d.open
	if doc == nil || source < 0 || source > 2 {
		return
	}
	want := doc.read
	if j := d.rereading(); j != nil && !j.reading.goes { // another plate is on its way already
		want = j.reading.want
	}
	for i := range want {
		if i == source || len(doc.Scans) == 1 {
			want[i] = encoding
		}
	}
	d.dropAll(Rereading)
	if want == doc.read {
		return
	}
	d.reread(rereading{want: want, then: d.takeReadings})
}

// Go goes so many steps on in the open document, or back where steps is negative.
func (d *Desk) Go(steps int) error {
	doc := d.open
	if doc == nil {
		return nil
	}
	s, err := doc.Peek(steps)
	if err != nil {
		return err
	}
	return d.as(&s, func() error { return doc.Go(steps) })
}

// as does something that leads to a state, after its plates were read as it says.
func (d *Desk) as(s *session.State, then func() error) error {
	d.dropAll(Rereading)
	want := readingsOf(s)
	if want == d.open.read {
		return then()
	}
	d.reread(rereading{want: want, then: func(*session.State) error { return then() }, goes: true})
	return nil
}

// agree has the planes of a document that has just been opened made as its state says.
func (d *Desk) agree() {
	if doc := d.open; doc.read != readingsOf(&doc.State) {
		d.reread(rereading{want: readingsOf(&doc.State), then: func(*session.State) error { return nil }})
	}
}

func (d *Desk) rereading() *Job {
	i := slices.IndexFunc(d.jobs, func(j *Job) bool { return j.reading != nil && d.onOpen(j) })
	if i < 0 {
		return nil
	}
	return d.jobs[i]
}

func (d *Desk) reread(r rereading) {
	doc := d.open
	r.at = doc.Revision()
	j := d.begin(&Job{Kind: Rereading, Words: "Reading the scans"})
	j.reading = &r
	var hashes []string
	w := Work{Token: j.Token, Op: "open"}
	for _, f := range doc.Scans {
		w.Files, hashes = append(w.Files, f.Key), append(hashes, doc.hashOf(f))
	}
	w.More = howRead{Options: doc.Options, Encodings: r.want.byFile(hashes, marksOfContent(&doc.State))}
	d.order(w)
}

// readAgain takes the plates of a rereading. What it was for is done only then, so that
// plates and session agree at any time.
func (d *Desk) readAgain(j *Job, fresh session.State, plates [3][]*plane.Plane) error {
	doc, r := d.open, j.reading
	if r.goes && doc.Revision() != r.at {
		d.Tell("You went on working while the scans were being read, so that was not gone back over.")
		return nil
	}
	at, same := arrange(marksOfContent(&doc.State), marksOfContent(&fresh))
	if !same {
		return fmt.Errorf("the scans have changed since they were opened; open them again")
	}
	was, wasRead := doc.Plates, doc.read
	sources := fresh.Sources
	for i, k := range at {
		doc.Plates[i], fresh.Sources[i] = plates[k], sources[k]
	}
	doc.read = r.want
	if err := r.then(&fresh); err != nil {
		doc.Plates, doc.read = was, wasRead
		return err
	}
	doc.planes++
	d.forgive(Rereading)
	d.Keep()
	return nil
}

// takeReadings takes those sources that are read otherwise than the session says, and
// has the films found from what they were found from before, in the same step.
func (d *Desk) takeReadings(fresh *session.State) error {
	doc := d.open
	gesture := fmt.Sprintf("reading %d", d.lastToken)
	if err := doc.Do(newReading{fresh.Sources}, gesture); err != nil {
		return err
	}
	d.findAgain(gesture)
	return nil
}

// newReading takes the sources that are read otherwise.
type newReading struct{ sources [3]session.Source }

func (c newReading) Apply(s *session.State) error {
	for i, fresh := range c.sources {
		src := &s.Sources[i]
		if fresh.ChosenEncoding() == src.ChosenEncoding() {
			continue
		}
		was := *src
		fresh.File, fresh.SHA256, fresh.Part = was.File, was.SHA256, was.Part
		*src = fresh
		if fresh.Film.Negative != was.Film.Negative { // negatives stay negatives, as they are shown or as the user said
			kept := s.Neutral
			polarity := "positive"
			if was.Film.Negative {
				polarity = "negative"
			}
			if err := (command.Polarity{Source: i, Polarity: polarity}).Apply(s); err != nil {
				return err
			}
			s.Neutral = kept
		}
		if s.Neutral.By == session.ByHand {
			src.Film.Gamma = was.Film.Gamma
		}
	}
	return nil
}

func (newReading) Words() string { return "encoding of a plate" }

// encodings are how the files are read, in their order: as the kept document says.
func (c *coming) encodings() []string {
	if c.held == nil {
		return nil
	}
	hashes := make([]string, len(c.files))
	for i, f := range c.files {
		hashes[i] = f.Key // of a kept file
		if c.again {
			hashes[i] = c.state.Sources[i].SHA256
		}
	}
	s := &c.held.history.State
	return readingsOf(s).byFile(hashes, marksOfContent(s))
}

// agrees tells whether the plates that came are read as the kept document says.
func (c *coming) agrees() bool {
	if c.held == nil {
		return true
	}
	s := &c.held.history.State
	at, same := arrange(marksOfContent(s), marksOfContent(&c.state))
	come, want := readingsOf(&c.state), readingsOf(s)
	for i, k := range at {
		if same && come[k] != want[i] {
			return false
		}
	}
	return true
}
