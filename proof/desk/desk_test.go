package desk

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// do gives the open document a command, as the page does.
func (b *tab) do(c command.Command) {
	b.t.Helper()
	if err := b.desk.Open().Do(c, ""); err != nil {
		b.t.Fatal(err)
	}
	b.desk.Keep()
	b.run()
}

// shows fails where the open document is not the one of the files with the palette.
func (b *tab) shows(files []file, palette string) {
	b.t.Helper()
	doc := b.desk.Open()
	if doc == nil {
		b.t.Fatal("nothing is open")
	}
	for i, f := range files {
		if doc.Sources[i].SHA256 != f.hash() || doc.Plates[i][0].Pix[0] != codeOf(f) {
			b.t.Fatalf("source %d is %s with code %d, not %s with %d", i, doc.Sources[i].File, doc.Plates[i][0].Pix[0], f.bytes, codeOf(f))
		}
	}
	if doc.Palette != palette {
		b.t.Fatalf("the palette is %s, not %s", doc.Palette, palette)
	}
}

// The click on the demonstration set used to replace the kept session and empty the
// kept scans.
func TestDemonstrationSetPutsTheWorkAway(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	id := b.desk.Open().ID
	b.desk.Demo()
	b.run()
	if !b.desk.Open().Demo() {
		t.Fatal("the demonstration set is not open")
	}
	if err := b.said("is put away and kept"); err != nil {
		t.Error(err)
	}
	b.desk.Restore(id)
	b.run()
	b.shows(set("harbour"), "earth")
	if b.desk.Open().UndoWords() != "palette" {
		t.Errorf("undo goes back over %q", b.desk.Open().UndoWords())
	}
}

func TestReloadComesBackWithUndoAndPlace(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	b.do(command.Order{Order: "cmy"})
	b.desk.Open().Undo()
	b.desk.Open().SetSight([]byte(`{"station":"register"}`))
	b.desk.Keep()
	b.run()
	left := b.desk.Open().Left.Found
	b.close()

	b = d.newTab(t, b.remembered)
	b.shows(set("harbour"), "earth")
	doc := b.desk.Open()
	if doc.UndoWords() != "palette" || doc.RedoWords() != "order of the layers" {
		t.Errorf("undo %q, redo %q", doc.UndoWords(), doc.RedoWords())
	}
	if string(doc.Sight()) != `{"station":"register"}` {
		t.Errorf("looked at %s", doc.Sight())
	}
	if doc.Left.Found != left || doc.Registered != "auto" {
		t.Errorf("what register left is gone: %+v", doc.Left.Found)
	}
	if got := b.desk.Saved(); got.State != SavedAll {
		t.Errorf("after a reload: %+v", got)
	}
}

// Plates that are had back are read and not measured again: what they tell is kept, as it was.
func TestKeptPlatesAreNotMeasuredAgain(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	was := b.desk.Open().Sources
	if was[0].Area == [4]int{} || !slices.Equal(b.measured, []bool{true, true}) { // the demonstration set came before
		t.Fatalf("measured as they came: %v, %+v", b.measured, was[0])
	}
	b.close()
	b = d.newTab(t, b.remembered)
	if got := b.desk.Open().Sources; !reflect.DeepEqual(got, was) || !slices.Equal(b.measured, []bool{false}) {
		t.Errorf("measured again: %v; they are\n%+v, were\n%+v", b.measured, got, was)
	}
	b.drop(set("mill")...)
	b.drop(set("harbour")...) // found among the kept ones when it is open
	if got := b.desk.Open().Sources; !reflect.DeepEqual(got, was) {
		t.Errorf("dropped again they are\n%+v, were\n%+v", got, was)
	}
}

// The arrows of what register left are there again after a reload, each as it was.
func TestArrowsAreThereAfterAReload(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	left := b.desk.Open().Left.Left
	b.close()
	doc := d.newTab(t, b.remembered).desk.Open()
	if got := registration.Rests(&doc.State, doc.Left.Left); len(got[0]) != 2 || !reflect.DeepEqual(got, left) || registration.ArrowScale(got, 36) != 100 { // 0.32 px, 36 points long at the most
		t.Errorf("after a reload %+v are left, before %+v", got, left)
	}
}

// What is measured again from marks is not taken where the marks were moved meanwhile.
func TestMarksOutlastALateMeasurement(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Pin{N: 1, Source: 0, X: 3, Y: 3})
	b.do(command.Pin{N: 1, Source: 1, X: 2, Y: 2})
	b.do(command.RegisterBy{ID: session.ByMarks})
	b.holds = "register"
	b.desk.Refine(0)
	b.run()
	b.do(command.Pin{N: 1, Source: 0, X: 4, Y: 3})
	was := b.desk.Open().State
	b.let()
	if !reflect.DeepEqual(b.desk.Open().State, was) {
		t.Error("a measurement from where the marks lay is taken")
	}
	if err := b.said("they stay as you laid them"); err != nil {
		t.Error(err)
	}
}

// Other scans used to overwrite a session that waited for its own.
func TestScansThatWereNotKeptAreWaitedFor(t *testing.T) {
	d := newDisk()
	d.full = true
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	if err := b.said("are not kept in this browser"); err != nil {
		t.Error(err)
	}
	b.close()

	b = d.newTab(t, b.remembered)
	if err := b.said("drop red.tif, green.tif and blue.tif to go on with it"); err != nil {
		t.Error(err)
	}
	b.drop(set("mill")...) // the same names and sizes, other content
	b.do(command.Palette{ID: "lemon"})
	b.drop(set("harbour")...)
	b.shows(set("harbour"), "earth")
	if b.desk.Open().UndoWords() != "palette" {
		t.Errorf("undo goes back over %q", b.desk.Open().UndoWords())
	}
	b.drop(set("mill")...)
	b.shows(set("mill"), "lemon")
}

func TestLateResultsAreDropped(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.holds = "register"
	b.drop(set("harbour")...)
	kept := b.desk.Open().State
	kept.Found[0] = session.Found{Matrix: [6]float64{1, 0, 7, 0, 1, 7}, Confidence: 0.8}
	kept.Found[1].Confidence, kept.Found[2].Confidence = 1, 0.8
	kept.Registered, kept.FoundKey = "auto", 1
	text, err := session.Write(kept)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.desk.OpenSession("work.json", string(text)); err != nil {
		t.Fatal(err)
	}
	b.let()
	if got := b.desk.Open().Found[0].Matrix[2]; got != 7 {
		t.Errorf("a register that was begun before replaced the opened session: %g", got)
	}

	b.holds = "register"
	b.desk.Register()
	b.run()
	b.drop(set("mill")...)
	first := b.held
	b.held = nil
	for _, do := range first[:1] { // of the set before
		do()
		b.run()
	}
	if got := b.desk.Open().Registered; got == "auto" {
		t.Error("the matrices of one set were laid on the next")
	}
}

func TestPlatesLaidByHandOutlastALateRegister(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.holds = "register"
	b.drop(set("harbour")...)
	b.do(command.Place{Source: 0, Pose: session.Pose{DX: 1}})
	was := b.desk.Open().Found
	b.let()
	if b.desk.Open().Found != was {
		t.Error("what was laid by hand was replaced")
	}
	if err := b.said("they stay as you laid them"); err != nil {
		t.Error(err)
	}
}

// Parts of a set that is overtaken used to be joined to the next.
func TestTheLastDropWins(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.holds = "open"
	b.drop(set("harbour")...)
	b.drop(set("mill")...)
	b.let()
	b.shows(set("mill"), session.New().Palette)
	if len(b.desk.Jobs()) != 0 {
		t.Errorf("jobs are left: %+v", b.desk.Jobs())
	}
}

func TestJobsEndOneByOne(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	one, two := b.desk.Begin(Exporting, "Writing the print"), b.desk.Begin(Exporting, "Writing the reference")
	b.desk.Progress(two, 0.5, "")
	b.desk.Stop(one)
	b.run()
	if !b.halted[one] || b.halted[two] {
		t.Errorf("halted: %v", b.halted)
	}
	if jobs := b.desk.Jobs(); len(jobs) != 1 || jobs[0].Token != two || jobs[0].Share != 0.5 {
		t.Errorf("jobs: %+v", jobs)
	}
	if b.desk.End(one) || !b.desk.End(two) || b.desk.End(two) {
		t.Error("only the second was still wanted, and once")
	}
}

// Another red.tif of the same scanner used to take the register of the first.
func TestScansAreKnownByTheirContent(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Place{Source: 0, Pose: session.Pose{DX: 5}})
	b.drop(set("mill")...)
	if got := b.desk.Open().Found[0]; got.ByHand {
		t.Error("the second picture took the register of the first")
	}
	// The same scans in another order are the same work.
	s := set("harbour")
	b.drop(s[2], s[0], s[1])
	b.shows(set("harbour"), session.New().Palette)
	if !b.desk.Open().Found[0].ByHand {
		t.Error("the work on the scans is gone")
	}
}

// Another layout used to throw marks, offsets and undo away.
func TestReadingInAnotherWayKeepsTheWork(t *testing.T) {
	b := newDisk().newTab(t, "")
	tall := file{"tall.tif", "three exposures"}
	b.drop(tall)
	b.do(command.Pin{Source: 0, X: 2, Y: 2})
	um := 40.0
	b.do(command.Nudge{Printer: "cyan", DX: &um})
	b.desk.ReadAs(Options{Layout: "tall"})
	b.run()
	if doc := b.desk.Open(); len(doc.Marks) != 0 || doc.Offsets[2].DX != um || doc.State.Layout != "tall" {
		t.Errorf("marks %v, offsets %v, layout %s", doc.Marks, doc.Offsets, doc.State.Layout)
	}
	b.desk.ReadAs(Options{Layout: "separate"})
	b.run()
	if doc := b.desk.Open(); len(doc.Marks) != 1 || doc.UndoWords() != "offset" {
		t.Errorf("marks %v, undo %q", doc.Marks, doc.UndoWords())
	}
}

func TestTwoTabs(t *testing.T) {
	d := newDisk()
	one := d.newTab(t, "")
	one.drop(set("harbour")...)
	one.do(command.Palette{ID: "earth"})
	two := d.newTab(t, "")
	two.shows(set("harbour"), "earth")
	if err := two.said("This is a copy"); err != nil {
		t.Error(err)
	}
	if n := len(two.desk.Cards()); n != 1 {
		t.Errorf("%d sets are kept before the copy was changed", n)
	}
	two.do(command.Palette{ID: "lemon"})
	one.do(command.Order{Order: "cmy"})
	one.close()
	two.close()
	one, two = d.newTab(t, one.remembered), d.newTab(t, two.remembered)
	one.shows(set("harbour"), "earth")
	two.shows(set("harbour"), "lemon")
	if one.desk.Open().State.Order != "cmy" || two.desk.Open().State.Order == "cmy" {
		t.Error("the tabs overwrote each other")
	}
}

func TestSavedIsSaidOfWhatIsOnDisk(t *testing.T) {
	b := newDisk().newTab(t, "")
	if got := b.desk.Saved(); got.State != SavedNothing {
		t.Errorf("the untouched demonstration set: %+v", got)
	}
	b.drop(set("harbour")...)
	if got := b.desk.Saved(); got.State != SavedAll || got.At == "" {
		t.Errorf("after opening: %+v", got)
	}
	b.holds = "store"
	b.do(command.Palette{ID: "earth"})
	b.do(command.Order{Order: "cmy"})
	if got := b.desk.Saved(); got.State != SavedSoon {
		t.Errorf("while it is stored: %+v", got)
	}
	b.let()
	if got := b.desk.Saved(); got.State != SavedAll {
		t.Errorf("once all is stored: %+v", got)
	}
	// What is taken back before it was stored leaves nothing to store, while the disk is slow too.
	for _, slow := range []string{"", "store"} {
		b.holds = slow
		if slow != "" {
			b.do(command.Order{Order: "ymc"})
		}
		doc := b.desk.Open()
		sight := string(doc.Sight())
		doc.SetSight([]byte(`"elsewhere"`))
		doc.SetSight([]byte(sight))
		b.desk.Keep()
		b.desk.Flush()
		b.run()
		b.let()
		if got := b.desk.Saved(); got.State != SavedAll {
			t.Errorf("slow disk %q: after a change that was taken back: %+v", slow, got)
		}
	}
	b.disk.refuses = "its storage is closed to this page"
	b.do(command.Palette{ID: "lemon"})
	if got := b.desk.Saved(); got.State != SavedRefused {
		t.Errorf("where it is refused: %+v", got)
	}
	if err := b.said("does not keep your work"); err != nil {
		t.Error(err)
	}
	b.disk.refuses = ""
	b.desk.TryAgain()
	b.run()
	if got := b.desk.Saved(); got.State != SavedAll {
		t.Errorf("after another try: %+v", got)
	}
	b.close()
	b = b.disk.newTab(t, b.remembered)
	b.shows(set("harbour"), "lemon")
}

func TestRemovedSetsCanBePutBack(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	b.drop(set("harbour")...)
	b.do(command.Palette{ID: "earth"})
	id := b.desk.Open().ID
	b.desk.Forget(id) // only what was removed can be forgotten
	b.drop(set("mill")...)
	b.desk.Remove(id)
	b.run()
	b.close()
	b = d.newTab(t, b.remembered)
	b.shows(set("mill"), "earth") // a new set takes the tissues of the one before
	mill := b.desk.Open().ID
	b.desk.Restore(id)
	b.run()
	b.shows(set("harbour"), "earth")
	b.desk.Remove(mill)
	b.desk.Forget(mill)
	b.run()
	if len(d.scans) != 3 {
		t.Errorf("%d scans are kept", len(d.scans))
	}
	for key := range d.records {
		if strings.HasPrefix(key.Name, mill) {
			t.Errorf("%v is left", key)
		}
	}
}

// A set is kept before anything was done on it, its register not awaited.
func TestAFreshSetIsKept(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.holds = "register"
	b.drop(set("harbour")...)
	if len(b.desk.Cards()) != 1 || b.desk.Saved().State != SavedAll {
		t.Errorf("%d sets are kept, %+v", len(b.desk.Cards()), b.desk.Saved())
	}
}

// Files of one's own are a set of one's own, even where the demonstration set is made
// of the same.
func TestFilesOfTheDemonstrationSet(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(file{"jug_red.tif", "demo red"}, file{"jug_green.tif", "demo green"}, file{"jug_blue.tif", "demo blue"})
	if doc := b.desk.Open(); doc.Demo() || doc.Sources[0].File != "jug_red.tif" || len(b.desk.Cards()) != 1 {
		t.Errorf("open is %s of %d kept sets", doc.Sources[0].File, len(b.desk.Cards()))
	}
	b.drop(file{"jug_red.tif", "demo red"}, file{"jug_green.tif", "demo green"}, file{"jug_blue.tif", "demo blue"})
	if err := b.said("are open already"); err != nil {
		t.Error(err)
	}
}

// What was chosen while the first set was still on its way used to be lost as it came: it
// holds for the demonstration set, and goes along to the user's own.
func TestWhatWasChosenBeforeTheFirstSet(t *testing.T) {
	d := newDisk()
	b := d.unwoken(t, "")
	early := session.New()
	early.Palette = "earth"
	b.desk.SetBefore(&early)
	b.wake()
	if doc := b.desk.Open(); !doc.Demo() || doc.Palette != "earth" || doc.Touched() {
		t.Errorf("demonstration set %t with %s, touched %t", doc.Demo(), doc.Palette, doc.Touched())
	}
	b.drop(set("harbour")...)
	b.shows(set("harbour"), "earth")
	b.do(command.Palette{ID: "arylide"})
	b.desk.Demo()
	b.run()
	if doc := b.desk.Open(); doc.Palette == "earth" {
		t.Error("the early choice comes back after later work")
	}
}

// What comes is known before its plates are read: the page prepares its print meanwhile.
func TestComing(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	if c := b.desk.Coming(); c.State != nil {
		t.Error("a set that is open is said to come")
	}
	b.drop(set("one")...)
	b.do(command.Palette{ID: "earth"})
	b.desk.Open().SetSight([]byte(`{"seen":"so"}`))
	b.desk.Keep()
	b.run()
	b.close()
	b = d.unwoken(t, b.remembered)
	b.holds = "open"
	b.wake()
	if c := b.desk.Coming(); c.State == nil || c.State.Palette != "earth" || string(c.Sight) != `{"seen":"so"}` || c.Demo || b.desk.Open() != nil {
		t.Fatalf("what comes: %+v", c)
	}
	b.let()
	if b.desk.Coming().State != nil || b.desk.Open().Palette != "earth" {
		t.Error("it has not come")
	}
}
