package desk

import (
	"fmt"
	"slices"

	"threeply/proof/plate"
	"threeply/proof/strict"
)

// Heard is something that the desk is told from outside, by the user or in answer
// to an order. In JSON it names itself as "do"; everything else is its fields.
type Heard interface{ hear(d *Desk) error }

// What the user asks for.
type (
	// HeardBring opens files that were dropped or chosen.
	HeardBring struct {
		Files []File `json:"files"`
	}
	// HeardDemo opens the demonstration set.
	HeardDemo struct{}
	// HeardAnew opens the open scans as a new document.
	HeardAnew struct{}
	// HeardReadAs reads the open scans in another way.
	HeardReadAs struct {
		Layout string `json:"layout,omitempty"`
		Order  string `json:"order,omitempty"`
	}
	// HeardReadPlate has the codes of one plate read in another way, "" as its file says.
	HeardReadPlate struct {
		Source   int    `json:"source"`
		Encoding string `json:"encoding"`
	}
	// HeardRestore has a kept document back.
	HeardRestore struct {
		ID string `json:"id"`
	}
	// HeardRemove takes a document off the list of kept ones.
	HeardRemove struct {
		ID string `json:"id"`
	}
	// HeardForget deletes a document that was taken off the list.
	HeardForget struct {
		ID string `json:"id"`
	}
	// HeardOpenSession takes a saved session for the open plates.
	HeardOpenSession struct {
		Name string `json:"name"`
		Text string `json:"text"`
	}
	// HeardOpenPacked takes a saved session with the scans that lay in its file.
	HeardOpenPacked struct {
		Name  string   `json:"name"`
		Text  string   `json:"text"`
		Files []File   `json:"files"`
		Notes []string `json:"notes"` // what of the file is damaged
		Sight string   `json:"sight"` // how it was looked at, as of Document.Sight; "" for nothing
	}
	// HeardRegister registers the plates.
	HeardRegister struct{}
	// HeardRefine measures one source again from where it lies.
	HeardRefine struct {
		Source int `json:"source"`
	}
	// HeardTakeGreyAway has the films found without one of the greys, counted from 0.
	HeardTakeGreyAway struct {
		N int `json:"n"`
	}
	// HeardTakeGreysAway has them found without any.
	HeardTakeGreysAway struct{}
	// HeardReadGreys has the greys read again; Steps is what is known of the steps of a
	// scale, see neutral.ReadSteps.
	HeardReadGreys struct {
		Steps string `json:"steps"`
	}
	// HeardAssume has the films found by an assumption on the light of the scene, "" for
	// each plate by itself.
	HeardAssume struct {
		Light string `json:"light"`
	}
	// HeardTakeScale takes the films of the grey scale that register saw.
	HeardTakeScale struct{}
	// HeardStop ends a job.
	HeardStop struct {
		Token Token `json:"token"`
	}
	// HeardDismiss takes a message away.
	HeardDismiss struct {
		Message int `json:"message"`
	}
	// HeardKeep stores what the browser has refused to keep before.
	HeardKeep struct{}
)

// What comes back of orders.
type (
	// HeardWake gives the cards of all kept documents, and the one of this tab.
	HeardWake struct {
		Cards []string `json:"cards"`
		Tab   string   `json:"tab"`
	}
	// HeardWakeOld gives what was kept before there were documents.
	HeardWakeOld struct {
		Session string  `json:"session"`
		Files   []File  `json:"files"`
		Options Options `json:"options"`
	}
	// HeardRefresh gives the cards as another tab has left them.
	HeardRefresh struct {
		Cards []string `json:"cards"`
	}
	// HeardLocked answers Lock.
	HeardLocked struct {
		ID string `json:"id"`
		OK bool   `json:"ok"`
	}
	// HeardLoaded ends the answer to Load; the records have gone before, see Record.
	HeardLoaded struct {
		ID    string `json:"id"`
		Files []File `json:"files"`
	}
	// HeardStored answers Store; Refused is "" where it worked.
	HeardStored struct {
		ID       string `json:"id"`
		Revision int    `json:"revision"`
		Refused  string `json:"refused"`
	}
	// HeardScansKept answers KeepScans; Refused is "" where it worked.
	HeardScansKept struct {
		ID      string `json:"id"`
		Refused string `json:"refused"`
	}
	// HeardDemoFetched answers FetchDemo.
	HeardDemoFetched struct {
		Token Token  `json:"token"`
		Files []File `json:"files"`
	}
	// HeardOpened answers Work “open”.
	HeardOpened struct {
		Token   Token  `json:"token"`
		Session string `json:"session"`
		Asked   bool   `json:"asked"`
	}
	// HeardAlone answers Work “open” where the files are plates without their set.
	HeardAlone struct {
		Token  Token        `json:"token"`
		Plates []plate.Lone `json:"plates"`
	}
	// HeardMovePlate puts a gathered plate into another place.
	HeardMovePlate struct {
		From int `json:"from"`
		To   int `json:"to"`
	}
	// HeardOpenGathered opens the gathered set, where it is whole.
	HeardOpenGathered struct{}
	// HeardLetGo takes a gathered plate away.
	HeardLetGo struct {
		Place int `json:"place"`
	}
	// HeardRegistered answers Work “register”.
	HeardRegistered struct {
		Token Token  `json:"token"`
		Found string `json:"found"`
	}
	// HeardLooked answers Work “look”.
	HeardLooked struct {
		Token Token  `json:"token"`
		Found string `json:"found"`
	}
	// HeardLevels answers Work “levels”.
	HeardLevels struct {
		Token Token  `json:"token"`
		Found string `json:"found"`
	}
	// HeardFailed says why a job did not work.
	HeardFailed struct {
		Token Token  `json:"token"`
		Why   string `json:"why"`
	}
	// HeardDied says so of one whose worker ended.
	HeardDied HeardFailed
	// HeardFlush stores at once what is not stored yet: the page is about to go.
	HeardFlush struct{}
)

func (h HeardBring) hear(d *Desk) error       { d.Bring(h.Files); return nil }
func (h HeardDemo) hear(d *Desk) error        { d.Demo(); return nil }
func (h HeardAnew) hear(d *Desk) error        { d.Anew(); return nil }
func (h HeardReadAs) hear(d *Desk) error      { d.ReadAs(Options(h)); return nil }
func (h HeardReadPlate) hear(d *Desk) error   { d.ReadPlate(h.Source, h.Encoding); return nil }
func (h HeardRestore) hear(d *Desk) error     { d.Restore(h.ID); return nil }
func (h HeardRemove) hear(d *Desk) error      { d.Remove(h.ID); return nil }
func (h HeardForget) hear(d *Desk) error      { d.Forget(h.ID); return nil }
func (h HeardOpenSession) hear(d *Desk) error { return d.OpenSession(h.Name, h.Text) }
func (h HeardOpenPacked) hear(d *Desk) error {
	return d.OpenPacked(h.Name, h.Text, h.Files, h.Notes, h.Sight)
}
func (h HeardRegister) hear(d *Desk) error      { d.Register(); return nil }
func (h HeardRefine) hear(d *Desk) error        { d.Refine(h.Source); return nil }
func (h HeardTakeGreyAway) hear(d *Desk) error  { d.TakeGreyAway(h.N); return nil }
func (h HeardTakeGreysAway) hear(d *Desk) error { d.TakeGreysAway(); return nil }
func (h HeardReadGreys) hear(d *Desk) error     { return d.ReadGreys(h.Steps) }
func (h HeardAssume) hear(d *Desk) error        { return d.Assume(h.Light) }
func (h HeardTakeScale) hear(d *Desk) error     { return d.TakeScale() }
func (h HeardStop) hear(d *Desk) error          { d.Stop(h.Token); return nil }
func (h HeardDismiss) hear(d *Desk) error       { d.Dismiss(h.Message); return nil }
func (h HeardKeep) hear(d *Desk) error          { d.TryAgain(); return nil }
func (h HeardWake) hear(d *Desk) error          { d.Wake(h.Cards, h.Tab); return nil }
func (h HeardRefresh) hear(d *Desk) error       { d.Refresh(h.Cards); return nil }
func (h HeardLocked) hear(d *Desk) error        { d.Locked(h.ID, h.OK); return nil }
func (h HeardLoaded) hear(d *Desk) error        { d.Loaded(h.ID, h.Files); return nil }
func (h HeardStored) hear(d *Desk) error        { d.Stored(h.ID, h.Revision, h.Refused); return nil }
func (h HeardScansKept) hear(d *Desk) error     { d.ScansKept(h.ID, h.Refused); return nil }
func (h HeardDemoFetched) hear(d *Desk) error   { d.DemoFetched(h.Token, h.Files); return nil }
func (h HeardAlone) hear(d *Desk) error         { d.Alone(h.Token, h.Plates); return nil }
func (h HeardMovePlate) hear(d *Desk) error     { d.MovePlate(h.From, h.To); return nil }
func (h HeardOpenGathered) hear(d *Desk) error  { d.OpenGathered(); return nil }
func (h HeardLetGo) hear(d *Desk) error         { d.LetGo(h.Place); return nil }
func (h HeardOpened) hear(d *Desk) error        { d.Opened(h.Token, h.Session, h.Asked); return nil }
func (h HeardRegistered) hear(d *Desk) error    { d.Registered(h.Token, h.Found); return nil }
func (h HeardLooked) hear(d *Desk) error        { d.Looked(h.Token, h.Found); return nil }
func (h HeardLevels) hear(d *Desk) error        { return d.Levelled(h.Token, h.Found) }
func (h HeardFailed) hear(d *Desk) error        { d.Failed(h.Token, h.Why); return nil }
func (h HeardDied) hear(d *Desk) error          { d.Died(h.Token, h.Why); return nil }
func (h HeardFlush) hear(d *Desk) error         { d.Flush(); return nil }
func (h HeardWakeOld) hear(d *Desk) error {
	d.WakeOld(Kept(h))
	return nil
}

// heard has a reader for each name.
var heard = map[string]func([]byte) (Heard, error){
	"bring": read[HeardBring], "demo": read[HeardDemo], "anew": read[HeardAnew], "readAs": read[HeardReadAs], "readPlate": read[HeardReadPlate],
	"restore": read[HeardRestore], "remove": read[HeardRemove], "forget": read[HeardForget],
	"openSession": read[HeardOpenSession], "openPacked": read[HeardOpenPacked], "register": read[HeardRegister], "refine": read[HeardRefine],
	"stop": read[HeardStop], "dismiss": read[HeardDismiss], "keep": read[HeardKeep],
	"wake": read[HeardWake], "wakeOld": read[HeardWakeOld], "refresh": read[HeardRefresh],
	"locked": read[HeardLocked], "loaded": read[HeardLoaded], "stored": read[HeardStored],
	"scansKept": read[HeardScansKept], "demoFetched": read[HeardDemoFetched],
	"opened": read[HeardOpened], "alone": read[HeardAlone], "movePlate": read[HeardMovePlate], "letGo": read[HeardLetGo], "openGathered": read[HeardOpenGathered], "registered": read[HeardRegistered], "looked": read[HeardLooked], "levels": read[HeardLevels],
	"takeGreyAway": read[HeardTakeGreyAway], "takeGreysAway": read[HeardTakeGreysAway], "readGreys": read[HeardReadGreys],
	"assume": read[HeardAssume], "takeScale": read[HeardTakeScale], "failed": read[HeardFailed], "died": read[HeardDied], "flush": read[HeardFlush],
}

// Hear takes what the desk is told, as JSON. An error is for the user's eyes only
// where it is the user's doing; it is shown already.
func (d *Desk) Hear(text []byte) error {
	var named struct {
		Do string `json:"do"`
	}
	if err := (strict.Reader{PassUnknown: true}).Read(text, &named); err != nil {
		return err
	}
	read, known := heard[named.Do]
	if !known {
		return fmt.Errorf("the desk knows no “%s”", named.Do)
	}
	h, err := read(text)
	if err != nil {
		return fmt.Errorf("%s: %w", named.Do, err)
	}
	return h.hear(d)
}

func read[H Heard](text []byte) (Heard, error) {
	var h H
	var named struct {
		Do string `json:"do"`
	}
	err := strict.Read(text, &named, &h)
	return h, err
}

// Hears lists what the desk can be told: the names, in order, each with its zero
// value, for the types of the page's scripts.
func Hears() (names []string, values []any) {
	for name := range heard {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		h, _ := heard[name]([]byte(`{"do":""}`)) // the value as far as it could be read
		values = append(values, h)
	}
	return names, values
}
