package files

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// Lock waits until no other process, nor another part of this one, holds the lock of this
// name, and holds it until unlock is called or the process ends; it calls waits once if it has
// to wait. The lock is a file, which unlock removes where nobody else waits for it: one that is
// open cannot be removed here. On a disc that knows no locks it holds nothing up.
func Lock(name string, waits func()) (unlock func(), err error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, unwritten(name, err)
	}
	lock := func(how uint32) error {
		return windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{})
	}
	if err := lock(windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY); errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		waits()
		lock(windows.LOCKFILE_EXCLUSIVE_LOCK)
	}
	return func() {
		f.Close()
		os.Remove(name)
	}, nil
}
