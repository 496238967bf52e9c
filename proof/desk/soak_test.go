package desk

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
)

// Two hours of work, a change every four seconds and another set every four minutes, leave
// nothing behind in the desk's memory: beside a tenth of it, less than 32 bytes a change,
// which is less than any one thing that a change could leave in a list.
func TestTwoHoursOfWorkLeaveNothingBehind(t *testing.T) {
	const edits, leaves = 1800, 32
	early, late := heldAfter(t, edits/10), heldAfter(t, edits)
	t.Logf("the desk holds %d bytes after twelve minutes, %d after two hours", early, late)
	if grown := late - early; grown > leaves*edits*9/10 {
		t.Errorf("%d bytes more are held after two hours, %d a change", grown, grown/(edits*9/10))
	}
}

// heldAfter is how many bytes of memory a desk holds after so many changes, with the
// demonstration set open as it came: how much is free once there is no desk any more.
func heldAfter(t *testing.T, edits int) int {
	const aSet, sets = 60, 6
	random := rand.New(rand.NewPCG(14, 2))
	d := newDisk()
	b := d.newTab(t, "")
	for n := range edits {
		if n%aSet == 0 {
			b.drop(set(fmt.Sprint("set ", n/aSet%sets))...)
		}
		b.edit(random)
		b.desk.Keep()
		b.run()
	}
	if n, want := len(d.scans), 3*min(sets, (edits+aSet-1)/aSet); n != want {
		t.Errorf("%d scans are kept, want %d", n, want)
	}
	b.desk.Demo()
	b.run()
	inUse := func() int {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int(m.HeapAlloc)
	}
	with := inUse()
	b.desk = nil
	without := inUse()
	runtime.KeepAlive(d)
	runtime.KeepAlive(b)
	return with - without
}
