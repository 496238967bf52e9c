package files

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"threeply/proof/scan"
)

func keep(t *testing.T, name, text string) string {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func holds(t *testing.T, name, want string) {
	t.Helper()
	if b, err := os.ReadFile(name); err != nil || string(b) != want {
		t.Errorf("%s holds %q, %v; want %q", name, b, err, want)
	}
}

// clean wants no part left behind in a folder.
func clean(t *testing.T, dir string) {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(dir, ".part-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("%q is left behind, %v", left, err)
	}
}

func text(s string) func(io.Writer) error { return Bytes([]byte(s)) }

// Under whatever name a file is named again, it is not written over, whether it
// was read or is going to be, and with Overwrite as well.
func TestNothingReadIsWrittenOver(t *testing.T) {
	dir := t.TempDir()
	master := keep(t, filepath.Join(dir, "Master.tif"), "master")
	sub := filepath.Join(dir, "sub")
	if err := os.Mkdir(sub, 0o755); err != nil {
		t.Fatal(err)
	}
	symlink, hardlink, folderLink := filepath.Join(dir, "symlink.tif"), filepath.Join(dir, "hard.tif"), filepath.Join(dir, "folder")
	if err := errors.Join(os.Symlink(master, symlink), os.Link(master, hardlink), os.Symlink(dir, folderLink)); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	for _, again := range []string{
		master, "Master.tif", "./Master.tif", "sub/../Master.tif", symlink, hardlink, filepath.Join(folderLink, "Master.tif"),
		"MASTER.TIF", "folder/master.tif",
	} {
		for _, overwrite := range []bool{false, true} {
			first := &Job{Overwrite: overwrite}
			if _, err := first.Read(master); err != nil {
				t.Fatal(err)
			}
			for way, err := range map[string]error{
				"planned":             first.Plan([]string{again}),
				"written":             first.Write(Out{again, text("new")}),
				"planned with it":     (&Job{Overwrite: overwrite}).Plan([]string{again}, master),
				"planned with others": (&Job{Overwrite: overwrite}).Plan([]string{"new", again}, "other", master),
			} {
				clash, is := errors.AsType[*Clash](err)
				if !is || clash.Refusal.File != again || !strings.Contains(err.Error(), "never written over") {
					t.Errorf("%s, %s, -overwrite %v: %v", again, way, overwrite, err)
				}
			}
		}
	}
	holds(t, master, "master")
	clean(t, dir)
}

// A link that was read is not written over either, nor what it leads to.
func TestALinkThatWasRead(t *testing.T) {
	dir := t.TempDir()
	master, link := keep(t, filepath.Join(dir, "master.tif"), "master"), filepath.Join(dir, "link.tif")
	if err := os.Symlink(master, link); err != nil {
		t.Fatal(err)
	}
	for _, out := range []string{master, link} {
		j := &Job{Overwrite: true}
		if _, err := j.Read(link); err != nil {
			t.Fatal(err)
		}
		if err := j.Write(Out{out, text("new")}); err == nil {
			t.Errorf("%s is written", out)
		}
	}
	holds(t, link, "master")
}

// What is there stays, until the user says otherwise; what is no ordinary file,
// or protected, stays even then.
func TestWhatIsThereStays(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	old, protected := keep(t, at("old"), "old"), keep(t, at("protected"), "old")
	if err := errors.Join(os.Chmod(protected, 0o444), os.Mkdir(at("folder"), 0o755), os.Symlink(at("nowhere"), at("dangling")), os.Symlink(old, at("link"))); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, reason, overwritten string
	}{
		{old, "it is there already, and was left as it is. Name another file or folder after -o, or add -overwrite", ""},
		{protected, "it is there already", "it is there already, protected from writing. Name"},
		{at("folder"), "it is a folder. Name", "it is a folder. Name"},
		{at("dangling"), "it is a link", "it is a link"},
		{at("link"), "it is a link", "it is a link"},
	} {
		for reason, j := range map[string]*Job{c.reason: {}, c.overwritten: {Overwrite: true}} {
			for way, err := range map[string]error{"planned": j.Plan([]string{c.name}), "written": j.Write(Out{c.name, text("new")})} {
				if reason == "" && err == nil {
					continue
				}
				if refused, ok := errors.AsType[*scan.Error](err); !ok || reason == "" || refused.File != c.name || !strings.HasPrefix(err.Error(), c.name+": "+reason) {
					t.Errorf("%s, %s, -overwrite %v: %v", c.name, way, j.Overwrite, err)
				}
			}
		}
	}
	holds(t, old, "new")
	holds(t, protected, "old")
	clean(t, dir)
}

// Of two files with one name neither is written, whatever its case, at once or
// one after the other.
func TestTwoFilesOfOneName(t *testing.T) {
	dir := t.TempDir()
	a, same, other := filepath.Join(dir, "a.csv"), filepath.Join(dir, ".", "A.csv"), filepath.Join(dir, "b.csv")
	j := &Job{Overwrite: true}
	for _, err := range []error{j.Plan([]string{a, same}), j.Write(Out{a, text("1")}, Out{same, text("2")})} {
		if _, is := errors.AsType[*Clash](err); !is || !strings.Contains(err.Error(), "two files would have this name") {
			t.Errorf("%v", err)
		}
	}
	if list, _ := os.ReadDir(dir); len(list) != 0 {
		t.Errorf("%v is written", list)
	}
	if err := j.Write(Out{a, text("1")}, Out{other, text("2")}); err != nil {
		t.Fatal(err)
	}
	if err := j.Write(Out{same, text("3")}); err == nil {
		t.Error("the second is written over the first")
	}
	holds(t, a, "1")
	holds(t, other, "2")
}

// What is wrong in a content comes back as it is, and none of the files appears.
func TestWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	kept := keep(t, filepath.Join(dir, "kept"), "before")
	broken := errors.New("the picture breaks off")
	half := func(w io.Writer) error { _, _ = io.WriteString(w, "half"); return broken }
	err := (&Job{Overwrite: true}).Write(Out{filepath.Join(dir, "first"), text("whole")}, Out{kept, half})
	if err != broken {
		t.Errorf("%v", err)
	}
	holds(t, kept, "before")
	if _, err := os.Stat(filepath.Join(dir, "first")); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the first of the two appeared")
	}
	clean(t, dir)
}

// fullDisc takes so many bytes in all.
type fullDisc struct {
	partial
	room *int
}

func (f fullDisc) Write(b []byte) (int, error) {
	n := min(len(b), *f.room)
	*f.room -= n
	written, err := f.partial.Write(b[:n])
	if err == nil && n < len(b) {
		err = &fs.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return written, err
}

// A disc that fills up at any byte leaves neither half a file nor a loss, and is
// named for what it is even by a content that hides it.
func TestADiscThatFillsUp(t *testing.T) {
	first, second := strings.Repeat("a", 50), strings.Repeat("b", 50)
	for room := range 100 {
		dir := t.TempDir()
		j := &Job{Overwrite: true, create: func(folder string) (partial, error) {
			p, err := newPart(folder)
			return fullDisc{p, &room}, err
		}}
		kept, fresh := keep(t, filepath.Join(dir, "kept"), "before"), filepath.Join(dir, "fresh")
		full := fresh
		if room < 50 {
			full = kept
		}
		err := j.Write(Out{kept, text(first)}, Out{fresh, func(w io.Writer) error {
			if _, err := io.WriteString(w, second); err != nil {
				return errors.New("something went wrong")
			}
			return nil
		}})
		if err == nil || !strings.HasPrefix(err.Error(), full+": the disc is full, so it was not written. Make room") {
			t.Fatalf("room for %d: %v", room, err)
		}
		holds(t, kept, "before")
		if _, err := os.Stat(fresh); !errors.Is(err, fs.ErrNotExist) {
			t.Fatalf("room for %d: half of it is there", room)
		}
		clean(t, dir)
	}
}

// A file that another program puts there in the meantime is not lost.
func TestAFileThatComesInBetween(t *testing.T) {
	name := filepath.Join(t.TempDir(), "late.tif")
	err := (&Job{}).Write(Out{name, func(w io.Writer) error {
		keep(t, name, "of another program")
		_, err := io.WriteString(w, "ours")
		return err
	}})
	if err == nil || !strings.HasPrefix(err.Error(), name+": it is there already") {
		t.Errorf("%v", err)
	}
	holds(t, name, "of another program")
	clean(t, filepath.Dir(name))
}

// A program that is told to end leaves no part behind.
func TestAbandon(t *testing.T) {
	dir := t.TempDir()
	err := (&Job{}).Write(Out{filepath.Join(dir, "x"), func(w io.Writer) error {
		_, err := io.WriteString(w, "half")
		Abandon()
		clean(t, dir)
		return err
	}})
	if err == nil {
		t.Error("a part that is gone was given its name")
	}
	if list, _ := os.ReadDir(dir); len(list) != 0 {
		t.Errorf("%v is left", list)
	}
}

func TestFolders(t *testing.T) {
	dir := t.TempDir()
	file := keep(t, filepath.Join(dir, "file"), "")
	if err := MakeFolder(filepath.Join(file, "out")); err == nil || !strings.HasPrefix(err.Error(), filepath.Join(file, "out")+": it is a file, or lies in one") {
		t.Errorf("a folder in a file: %v", err)
	}
	missing := filepath.Join(dir, "none", "x")
	j := &Job{}
	if err := j.Plan([]string{missing}); err != nil {
		t.Errorf("a folder that may still be made: %v", err)
	}
	if err := j.Write(Out{missing, text("x")}); err == nil || !strings.HasPrefix(err.Error(), missing+": there is no folder "+filepath.Dir(missing)+" to write it to. Make") {
		t.Errorf("%v", err)
	}
	if err := MakeFolder(filepath.Dir(missing)); err != nil {
		t.Fatal(err)
	}
	if err := j.Write(Out{missing, text("x")}); err != nil {
		t.Error(err)
	}
	holds(t, missing, "x")
}

// Bytes come back as they were written.
func TestBytes(t *testing.T) {
	var b bytes.Buffer
	if err := Bytes([]byte{0, 255, '\n'})(&b); err != nil || !bytes.Equal(b.Bytes(), []byte{0, 255, '\n'}) {
		t.Errorf("%v, %v", b.Bytes(), err)
	}
}
