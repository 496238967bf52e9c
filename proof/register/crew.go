package register

import (
	"sync"
	"sync/atomic"
)

// crew is the processors that plates are registered by: who works holds a place in it. A nil
// one has no other processor than the one that asks.
type crew chan struct{}

func newCrew(processors int) crew { return make(crew, processors) }

func (c crew) begin() { c <- struct{}{} }
func (c crew) end()   { <-c }

// free takes a place where one is free just now.
func (c crew) free() bool {
	select {
	case c <- struct{}{}:
		return true
	default:
		return false
	}
}

// each does the work on n patches, which have nothing to do with each other: by g, and by a
// matcher of its own on each processor that is free when it begins. What comes of it must
// not depend on their order.
func (c crew) each(g *matcher, n int, do func(g *matcher, i int)) {
	var next atomic.Int64
	work := func(g *matcher) {
		for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
			do(g, int(i))
		}
	}
	var wg sync.WaitGroup
	for helpers := 1; helpers < n && c.free(); helpers++ {
		wg.Go(func() {
			defer c.end()
			work(g.another())
		})
	}
	work(g)
	wg.Wait()
}
