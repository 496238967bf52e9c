//go:build unix

package batch

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What may never end, or never begin, is no scan.
func TestDigestOfWhatIsNoFile(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skipf("SKIPPED: no pipe can be made here (%v)", err)
	}
	for _, name := range []string{pipe, "/dev/zero"} {
		if _, err := Digest(nil, name); err == nil || !strings.Contains(err.Error(), name+": it is no ordinary file") {
			t.Error(err)
		}
	}
}
