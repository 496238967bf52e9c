package desk

import (
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
)

// agrees fails where what the session says of how the plates are read is not how their
// planes were made; want are the encodings of red, green and blue.
func (b *tab) agrees(files []file, want Readings) {
	b.t.Helper()
	doc := b.desk.Open()
	if got := readingsOf(&doc.State); got != want {
		b.t.Errorf("the session reads the plates as %q, wanted %q", got, want)
	}
	for i, src := range doc.Sources {
		for k, f := range files {
			code := codeOf(f)
			if want[k] != "" {
				code = readAs(f, want[k])
			}
			if src.SHA256 == f.hash() && doc.Plates[i][0].Pix[0] != code {
				b.t.Errorf("%s is not read as %q", f.name, want[k])
			}
		}
	}
}

// One plate's encoding is a step: Undo and Redo read the file again, and so does a reload.
func TestAPlateIsReadInAnotherWay(t *testing.T) {
	d := newDisk()
	b := d.newTab(t, "")
	files := set("harbour")
	b.drop(files...)
	b.do(command.Palette{ID: "earth"})
	b.desk.ReadPlate(1, "gamma 2.2")
	b.run()
	doc := b.desk.Open()
	b.agrees(files, Readings{"", "gamma 2.2", ""})
	if doc.Palette != "earth" || doc.UndoWords() != "encoding of a plate" || doc.Neutral.By != session.ByLight || doc.Planes() == 0 {
		t.Errorf("palette %s, undo %q, films by %s", doc.Palette, doc.UndoWords(), doc.Neutral.By)
	}
	if len(b.desk.Cards()) != 1 {
		t.Error("it became another set")
	}
	for _, step := range []struct {
		by   int
		want Readings
	}{{-1, Readings{}}, {1, Readings{"", "gamma 2.2", ""}}} {
		if err := b.desk.Go(step.by); err != nil {
			t.Fatal(err)
		}
		b.run()
		b.agrees(files, step.want)
	}
	b.close()
	b = d.newTab(t, b.remembered)
	b.agrees(files, Readings{"", "gamma 2.2", ""})

	// Dropped again in another order while another set is open, they come back as they were.
	b.drop(set("market")...)
	b.drop(files[2], files[1], files[0])
	b.agrees(files, Readings{"", "gamma 2.2", ""})
	text := savedAs(t, b, "chrome")

	// A session that reads a plate so has it read so on another machine.
	other := newDisk().newTab(t, "")
	if err := other.desk.OpenPacked("work.zip", text, other.take(files...), nil, ""); err != nil {
		t.Fatal(err)
	}
	other.run()
	other.agrees(files, Readings{"", "gamma 2.2", ""})
	if got := other.desk.Open().Palette; got != "chrome" {
		t.Errorf("opened with the palette %s", got)
	}
}

// What is chosen while a plate is still being read counts, and a step that is gone to does
// not undo what was done meanwhile.
func TestLateReadings(t *testing.T) {
	b := newDisk().newTab(t, "")
	files := set("harbour")
	b.drop(files...)
	b.desk.Point(session.Spot{X: 3, Y: 3})
	b.run()
	b.holds = "open"
	b.desk.ReadPlate(0, "linear")
	b.run()
	b.desk.ReadPlate(2, "sRGB")
	b.run()
	b.do(command.Palette{ID: "earth"})
	b.agrees(files, Readings{})
	b.let()
	b.agrees(files, Readings{"linear", "", "sRGB"})
	doc := b.desk.Open()
	if doc.Palette != "earth" || doc.Neutral.By != session.ByGreys || len(doc.Neutral.Greys) != 1 {
		t.Errorf("palette %s, films by %+v", doc.Palette, doc.Neutral)
	}

	b.holds = "open"
	if err := b.desk.Go(-1); err != nil {
		t.Fatal(err)
	}
	b.run()
	b.do(command.Palette{ID: "chrome"})
	b.let()
	b.agrees(files, Readings{"linear", "", "sRGB"})
	if doc.Palette != "chrome" || !b.says("You went on working") {
		t.Errorf("palette %s, said %+v", doc.Palette, b.desk.Messages())
	}
	b.desk.ReadPlate(0, "")
	b.desk.ReadPlate(0, "linear") // thought better of
	b.run()
	if doc.UndoWords() != "palette" || !b.desk.Idle() {
		t.Errorf("undo %q", doc.UndoWords())
	}
}

// The exposures of one tall file are read alike.
func TestOneFileIsReadInOneWay(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(file{"tall.tif", "three exposures"})
	b.desk.ReadPlate(1, "sRGB")
	b.run()
	if got := readingsOf(&b.desk.Open().State); got != (Readings{"sRGB", "sRGB", "sRGB"}) {
		t.Errorf("read as %q", got)
	}
}

// A file that is no plate, such as the readings of a test sheet, is read as a job of its own: how
// far it is is told, it is stopped with its worker, what comes back late is not wanted, and all
// else, other jobs too, stays as it is.
func TestReadingIsStopped(t *testing.T) {
	b := newDisk().newTab(t, "")
	b.drop(set("harbour")...)
	written := func() string {
		text, err := session.Write(b.desk.Open().State)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	before := written()
	fitting, other := b.desk.Begin(Reading, "Fitting the tissues"), b.desk.Begin(Exporting, "Saving the proof")
	b.desk.Progress(fitting, 0.4, "fitting the tissues")
	if jobs := b.desk.Jobs(); len(jobs) != 2 || jobs[0].Share != 0.4 || jobs[0].Words != "fitting the tissues" {
		t.Errorf("under way: %+v", jobs)
	}
	b.desk.Stop(fitting)
	b.run()
	b.desk.Progress(fitting, 0.9, "fitting the tissues") // told before the worker ended
	if !b.halted[fitting] || b.halted[other] {
		t.Errorf("halted: %v", b.halted)
	}
	if jobs := b.desk.Jobs(); len(jobs) != 1 || jobs[0].Token != other || b.desk.End(fitting) || !b.desk.End(other) {
		t.Errorf("still under way: %+v", jobs)
	}
	if after := written(); after != before {
		t.Errorf("the session was changed: %s", after)
	}
}
