package desk

import (
	"slices"
	"strings"

	"threeply/proof/plane"
)

// Token names one job for as long as the page lives. 0 names none.
type Token int

// Kind is what a job is for.
type Kind string

// The kinds of jobs.
const (
	Opening     Kind = "open"     // of scans
	Rereading   Kind = "reread"   // of the open scans, with their codes read in another way
	Registering Kind = "register" // of the open plates
	Looking     Kind = "look"     // for a grey scale in the picture of the open plates, in register
	Levelling   Kind = "levels"   // of greys, for the films of the open plates
	Exporting   Kind = "export"   // of something that is saved as a file
	Reading     Kind = "read"     // of a file that is no plate
)

// Job is work under way.
type Job struct {
	Token Token   `json:"token"`
	Kind  Kind    `json:"kind"`
	Words string  `json:"words"` // what is being done, as the user reads it
	Share float64 `json:"share"` // done so far, 0 … 1

	doc     string       // the document that was open when it began, "" for none
	found   *foundBefore // of Registering and Looking: where the plates lay when it began
	levels  *levelling   // of Levelling: what it is to find
	reading *rereading   // of Rereading: what it is for
}

// changesOpen tells whether a job's result goes into the document that was open when it began.
func (j *Job) changesOpen() bool {
	switch j.Kind {
	case Rereading, Registering, Looking, Levelling:
		return true
	}
	return false
}

// Begin notes a job on the open document.
func (d *Desk) Begin(kind Kind, words string) Token {
	return d.begin(&Job{Kind: kind, Words: words}).Token
}

func (d *Desk) begin(j *Job) *Job {
	d.lastToken++
	j.Token = d.lastToken
	if d.open != nil {
		j.doc = d.open.ID
	}
	d.jobs = append(d.jobs, j)
	return j
}

// Jobs are those under way, in the order in which they were begun.
func (d *Desk) Jobs() []Job {
	out := []Job{}
	for _, j := range d.jobs {
		out = append(out, *j)
	}
	return out
}

// Live tells whether what comes back under a token is still wanted: its job has
// neither ended nor been stopped, and where it would change a document, that is
// still the open one.
func (d *Desk) Live(t Token) bool { return d.job(t) != nil }

// Plates are the plates that a job was begun on, by source; nil once they are put
// away. Token 0 stands for the open ones.
func (d *Desk) Plates(t Token) *[3][]*plane.Plane {
	if t == 0 && d.open != nil {
		return &d.open.Plates
	}
	if j := d.job(t); j == nil || !d.onOpen(j) {
		return nil
	}
	return &d.open.Plates
}

func (d *Desk) onOpen(j *Job) bool { return d.open != nil && d.open.ID == j.doc }

func (d *Desk) job(t Token) *Job {
	i := slices.IndexFunc(d.jobs, func(j *Job) bool { return j.Token == t })
	if i < 0 {
		return nil
	}
	j := d.jobs[i]
	if j.changesOpen() && !d.onOpen(j) {
		return nil
	}
	return j
}

// Progress takes how far a job is: its share, 0 … 1, and what it does now.
func (d *Desk) Progress(t Token, share float64, words string) {
	if j := d.job(t); j != nil {
		j.Share = min(max(share, 0), 1)
		if words != "" {
			j.Words = words
		}
	}
}

// end takes a job off the list. It returns nil where the job is no longer wanted.
func (d *Desk) end(t Token) *Job {
	j := d.job(t)
	d.jobs = slices.DeleteFunc(d.jobs, func(j *Job) bool { return j.Token == t })
	delete(d.intake, t)
	return j
}

// End takes note that a job that changes nothing here has ended, and tells whether
// its result is still wanted.
func (d *Desk) End(t Token) bool { return d.end(t) != nil }

// Stop ends a job because the user asks for it; the others go on.
func (d *Desk) Stop(t Token) {
	j := d.drop(t)
	if j != nil && j.Kind == Registering {
		d.Tell("Register was stopped; the plates lie as before.")
	}
	if j != nil && j.Kind == Opening {
		d.openNothing()
	}
}

// drop ends a job without a word.
func (d *Desk) drop(t Token) *Job {
	j := d.end(t)
	d.order(Halt{t})
	return j
}

// dropAll ends all jobs of the given kinds.
func (d *Desk) dropAll(kinds ...Kind) {
	for _, j := range slices.Clone(d.jobs) {
		if slices.Contains(kinds, j.Kind) {
			d.drop(j.Token)
		}
	}
}

// Died takes note that a job ended by itself, for a reason that names nothing, and says which job.
func (d *Desk) Died(t Token, why string) {
	if j := d.job(t); j != nil {
		why = j.Words + ": " + strings.TrimSuffix(why, ".") + ". Do it again; where memory is short, close other pages and programs first."
	}
	d.Failed(t, why)
}

// Failed takes note that a job did not work, and says why.
func (d *Desk) Failed(t Token, why string) {
	j := d.end(t)
	if j == nil {
		return
	}
	d.say(Message{Kind: "error", Text: why, of: j.Kind})
	if j.Kind == Opening {
		d.openNothing()
	}
}
