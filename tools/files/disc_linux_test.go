package files

import (
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// withoutPower runs f without the powers of the super-user over files, which
// know no closed folder. Linux keeps that identity by thread.
func withoutPower(t *testing.T, f func()) {
	t.Helper()
	if os.Getuid() != 0 {
		f()
		return
	}
	const nobody = 65534
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := syscall.Setfsuid(nobody); err != nil {
		t.Fatal(err)
	}
	defer syscall.Setfsuid(0)
	f()
}

// A folder that is closed to the user is said before the work is done.
func TestAClosedFolder(t *testing.T) {
	dir, err := os.MkdirTemp("", "closed")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	name := filepath.Join(dir, "x.tif")
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	withoutPower(t, func() {
		j := &Job{}
		for _, err := range []error{j.Plan([]string{name}), j.Write(Out{name, text("x")})} {
			if err == nil || !strings.HasPrefix(err.Error(), name+": you have no right to write to the folder "+dir+". Name a folder of yours") {
				t.Errorf("%v", err)
			}
		}
		inner := filepath.Join(dir, "inner")
		if err := MakeFolder(inner); err == nil || !strings.HasPrefix(err.Error(), inner+": you have no right to make this folder") {
			t.Errorf("%v", err)
		}
	})
	if list, _ := os.ReadDir(dir); len(list) != 0 {
		t.Errorf("%v is written", list)
	}
}

// The system itself breaks off the writing in the middle of a file.
func TestAFileThatBreaksOff(t *testing.T) {
	dir := t.TempDir()
	kept := keep(t, filepath.Join(dir, "kept"), "before")
	signal.Ignore(syscall.SIGXFSZ)
	defer signal.Reset(syscall.SIGXFSZ)
	var old syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 1000, Max: old.Max}); err != nil {
		t.Fatal(err)
	}
	err := (&Job{Overwrite: true}).Write(Out{kept, text(strings.Repeat("x", 5000))})
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		t.Fatal(err)
	}
	if err == nil || !strings.HasPrefix(err.Error(), kept+": it is larger than a file may be there, so it was not written. Name") {
		t.Errorf("%v", err)
	}
	holds(t, kept, "before")
	clean(t, dir)
}

// A device that never ends is not read.
func TestADeviceIsNotRead(t *testing.T) {
	job := &Job{}
	if _, err := job.Read("/dev/zero"); err == nil || !strings.Contains(err.Error(), "/dev/zero: it is no ordinary file") {
		t.Error(err)
	}
	if _, err := job.Open("/dev/zero"); err == nil || !strings.Contains(err.Error(), "/dev/zero: it is no ordinary file") {
		t.Error(err)
	}
}
