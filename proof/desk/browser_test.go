package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"threeply/proof/affine"
	"threeply/proof/levels"
	"threeply/proof/plate"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// disk is what all tabs of a browser share.
type disk struct {
	records map[Key]string
	scans   map[string]file // by SHA-256
	locks   map[string]*tab // by document
	refuses string          // why nothing is stored, "" for it is
	full    bool            // files are refused
	clock   time.Time
	ids     int
}

// file is a scan: its name and its bytes.
type file struct{ name, bytes string }

func (f file) hash() string {
	sum := sha256.Sum256([]byte(f.bytes))
	return hex.EncodeToString(sum[:])
}

func newDisk() *disk {
	return &disk{records: map[Key]string{}, scans: map[string]file{}, locks: map[string]*tab{}, clock: time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)}
}

// tab stands for the page's scripts: it carries out the orders of its desk.
type tab struct {
	t          *testing.T
	disk       *disk
	desk       *Desk
	files      map[string]file
	remembered string
	holds      string   // orders of this name, or work of this operation, wait for let
	held       []func() // that wait
	halted     map[Token]bool
	done       []string // what was carried out
	measured   []bool   // of each time that scans were read: they were measured too
}

// newTab loads the page; remembered is what the tab knew before it was loaded.
func (d *disk) newTab(t *testing.T, remembered string) *tab {
	t.Helper()
	b := d.unwoken(t, remembered)
	b.wake()
	return b
}

func (d *disk) unwoken(t *testing.T, remembered string) *tab {
	b := &tab{t: t, disk: d, desk: New(), files: map[string]file{}, remembered: remembered, halted: map[Token]bool{}}
	b.desk.now = func() time.Time { d.clock = d.clock.Add(time.Second); return d.clock }
	b.desk.newID = func() string { d.ids++; return fmt.Sprintf("doc%d", d.ids) }
	return b
}

func (b *tab) wake() {
	b.desk.Wake(b.disk.cardTexts(), b.remembered)
	b.run()
}

func (d *disk) cardTexts() []string {
	var out []string
	for key, text := range d.records {
		if key.Store == storeCards {
			out = append(out, text)
		}
	}
	return out
}

// close ends the tab as a killed process does: nothing more is done.
func (b *tab) close() {
	for id, owner := range b.disk.locks {
		if owner == b {
			delete(b.disk.locks, id)
		}
	}
}

// drop has the user drop files.
func (b *tab) drop(files ...file) {
	b.desk.Bring(b.take(files...))
	b.run()
}

func (b *tab) take(files ...file) []File {
	var list []File
	for _, f := range files {
		key := fmt.Sprintf("f%d", len(b.files))
		b.files[key] = f
		list = append(list, File{key, f.name, int64(len(f.bytes))})
	}
	return list
}

// run carries out all orders, and those that come of them.
func (b *tab) run() {
	b.t.Helper()
	for {
		orders := b.desk.Orders()
		if len(orders) == 0 {
			return
		}
		for _, o := range orders {
			b.carryOut(o)
		}
	}
}

// let carries out what was held back.
func (b *tab) let() {
	held := b.held
	b.held, b.holds = nil, ""
	for _, do := range held {
		do()
		b.run()
	}
}

func (b *tab) carryOut(o Order) {
	b.t.Helper()
	name := o.name()
	if w, ok := o.(Work); ok {
		name = w.Op
	}
	do := func() { b.done = append(b.done, name); b.answer(o) }
	if b.holds == name {
		b.held = append(b.held, do)
		return
	}
	do()
}

func (b *tab) answer(o Order) {
	b.t.Helper()
	d := b.desk
	switch o := o.(type) {
	case Work:
		// An answer may be on its way while its work is halted, so it comes all the same.
		switch o.Op {
		case "open":
			b.openScans(o)
		case "register":
			look, _ := o.More.(map[string]bool)
			d.Registered(o.Token, found(b.t, o.Text, look["look"]))
		case "look":
			d.Looked(o.Token, write(b.t, seen(b.t, o.Text)))
		case "levels":
			b.findFilms(o)
		}
	case Halt:
		b.halted[o.Token] = true
	case Store:
		if why := b.disk.refuses; why != "" {
			d.Stored(o.ID, o.Revision, why)
			return
		}
		for _, r := range o.Put {
			b.disk.records[r.Key] = r.Text
		}
		for _, k := range o.Delete {
			delete(b.disk.records, k)
			if k.Store == storeScans {
				delete(b.disk.scans, k.Name)
			}
		}
		for k := range b.disk.records {
			if o.AllSteps && k.Store == storeSteps && strings.HasPrefix(k.Name, o.ID+"/") {
				delete(b.disk.records, k)
			}
		}
		d.Stored(o.ID, o.Revision, "")
	case KeepScans:
		if b.disk.full {
			d.ScansKept(o.ID, "they are too large for it")
			return
		}
		for _, f := range o.Files {
			if got := b.files[f.Key].hash(); got != f.SHA256 {
				b.t.Errorf("%s is kept as %s", b.files[f.Key].name, f.SHA256)
			}
			b.disk.scans[f.SHA256] = b.files[f.Key]
		}
		d.ScansKept(o.ID, "")
	case Load:
		for key, text := range b.disk.records {
			if key.Name == o.ID || strings.HasPrefix(key.Name, o.ID+"/") {
				d.Record(o.ID, Record{key, text})
			}
		}
		var files []File
		for hash, f := range b.disk.scans {
			b.files[hash] = f
			files = append(files, File{hash, f.name, int64(len(f.bytes))})
		}
		d.Loaded(o.ID, files)
	case Lock:
		owner := b.disk.locks[o.ID]
		if owner == nil {
			b.disk.locks[o.ID] = b
		}
		d.Locked(o.ID, owner == nil || owner == b)
	case Unlock:
		if b.disk.locks[o.ID] == b {
			delete(b.disk.locks, o.ID)
		}
	case FetchDemo:
		d.DemoFetched(o.Token, b.take(file{"demo-red.tif", "demo red"}, file{"demo-green.tif", "demo green"}, file{"demo-blue.tif", "demo blue"}))
	case Remember:
		b.remembered = o.ID
	default:
		b.t.Fatalf("an order that nobody carries out: %T", o)
	}
}

// The plates of the tests are this large; their pixels say which file they are of.
const testW, testH = 8, 6

func codeOf(f file) uint16 {
	sum := sha256.Sum256([]byte(f.bytes))
	return uint16(sum[0])<<8 | uint16(sum[1])
}

// readAs is the code of a file that is read in another way.
func readAs(f file, encoding string) uint16 { return codeOf(file{f.name, f.bytes + encoding}) }

// alone marks the content of a file that is one plate.
const alone = "alone "

// openScans answers as the worker does. One file alone holds three exposures, unless it says
// that it is one plate.
func (b *tab) openScans(o Work) {
	b.t.Helper()
	if first := b.files[o.Files[0]]; len(o.Files) == 2 || len(o.Files) == 1 && strings.HasPrefix(first.bytes, alone) {
		var plates []plate.Lone
		for _, key := range o.Files {
			f := b.files[key]
			named := slices.Index([]string{"red.tif", "green.tif", "blue.tif"}, f.name)
			plates = append(plates, plate.Lone{Name: f.name, SHA256: f.hash(), Filter: named, Thumb: "picture of " + f.name})
		}
		b.desk.Alone(o.Token, plates)
		return
	}
	options := o.More.(howRead)
	b.measured = append(b.measured, !options.Measured)
	s := session.New()
	s.Layout = "separate"
	if options.Layout != "" {
		s.Layout = options.Layout
	}
	for i := range s.Sources {
		f := b.files[o.Files[min(i, len(o.Files)-1)]]
		src := &s.Sources[i]
		src.File, src.W, src.H, src.Bits, src.SHA256 = f.name, testW, testH, 16, f.hash()
		if len(o.Files) == 1 {
			src.Part, src.File = i, f.name+[]string{" (top)", " (middle)", " (bottom)"}[i]
		}
		src.Encoding = "linear"
		code := codeOf(f)
		if n := min(i, len(o.Files)-1); n < len(options.Encodings) && options.Encodings[n] != "" {
			src.Encoding, src.Scan.Known = options.Encodings[n]+", as chosen", "chosen"
			code = readAs(f, options.Encodings[n])
		}
		src.Film.Gamma = 0.8
		if !options.Measured {
			src.Film.White, src.Film.Black = 0.3, 1.5
			src.Area = [4]int{0, 0, testW, testH}
		}
		for at := 0; at < 2*testW*testH; at += testW * testH {
			codes := b.desk.Arrive(o.Token, i, 0, testW, testH, at, testW*testH)
			if codes == nil {
				break
			}
			for k := range testW * testH / 2 {
				codes[at/2+k] = code
			}
		}
	}
	text, err := session.Write(s)
	if err != nil {
		b.t.Fatal(err)
	}
	b.desk.Opened(o.Token, string(text), false)
}

// found finds each plate two pixels beside the one before, and sees what is to be seen where it
// is to look.
func found(t *testing.T, text string, look bool) string {
	t.Helper()
	s := readState(t, text)
	r := registration.Registration{FoundKey: s.KeySource()}
	for i := range r.Found {
		r.Found[i] = session.Found{Matrix: affine.Translate(2*float64(i-s.KeySource()), 0), Confidence: 0.9, Words: "found"}
	}
	r.Left[0] = []register.Offset{{X: 2, Y: 1, DX: 0.5, Certainty: 0.9}, {X: 5, Y: 4, DX: 0.1, DY: -0.3, Certainty: 0.8}}
	films := levels.Own(&s)
	films.Neutral = session.Neutral{By: session.ByLight, Light: "white-patch"}
	r.Levels = &films
	if look {
		r.Seen = seen(t, text)
	}
	return write(t, r)
}

// seen sees a grey scale.
func seen(t *testing.T, text string) registration.Seen {
	t.Helper()
	s := readState(t, text)
	scale := levels.Own(&s)
	scale.Films[0].Gamma = 0.7
	scale.Neutral = session.Neutral{By: session.ByScale, Greys: []session.Spot{{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 3, Y: 1}}, Key: s.Key}
	return registration.Seen{Looked: true, Scale: &scale, Blur: [3]float64{1, 2, 3}}
}

func readState(t *testing.T, text string) session.State {
	t.Helper()
	s, err := session.Read("the test", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func write(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// set is three files of one picture.
func set(name string) []file {
	return []file{{"red.tif", name + " red"}, {"green.tif", name + " green"}, {"blue.tif", name + " blue"}}
}

// said tells whether a message stands that holds the words.
func (b *tab) said(words string) error {
	for _, m := range b.desk.Messages() {
		if strings.Contains(m.Text, words) {
			return nil
		}
	}
	return errors.Join(fmt.Errorf("no message says “%s”, but %+v", words, b.desk.Messages()))
}
