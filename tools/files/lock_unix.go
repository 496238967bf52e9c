//go:build unix

package files

import (
	"errors"
	"os"
	"syscall"
)

// Lock waits until no other process, nor another part of this one, holds the lock of this
// name, and holds it until unlock is called or the process ends; it calls waits once if it has
// to wait. The lock is a file, which unlock removes. On a disc that knows no locks it holds
// nothing up.
func Lock(name string, waits func()) (unlock func(), err error) {
	for how := syscall.LOCK_EX | syscall.LOCK_NB; ; {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, unwritten(name, err)
		}
		for err = syscall.EINTR; errors.Is(err, syscall.EINTR); { // a signal came meanwhile
			err = syscall.Flock(int(f.Fd()), how)
			if errors.Is(err, syscall.EWOULDBLOCK) {
				waits()
				how, err = syscall.LOCK_EX, syscall.EINTR
			}
		}
		mine, _ := f.Stat()
		if now, gone := os.Stat(name); err == nil && (gone != nil || !os.SameFile(mine, now)) {
			f.Close() // who held it has removed it
			continue
		}
		return func() {
			os.Remove(name)
			f.Close()
		}, nil
	}
}
