package register

import "sync"

// teller joins the progress of plates that are worked on at the same time.
type teller struct {
	mu   sync.Mutex
	tell func(float64, string)
	done float64
}

func newTeller(tell func(float64, string)) *teller { return &teller{tell: tell} }

// share gives the progress function of one of n equal parts.
func (t *teller) share(n int) func(float64) {
	last := 0.0
	return func(done float64) {
		if t.tell == nil {
			return
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		if done > last {
			t.done += (done - last) / float64(n)
			last = done
			t.tell(min(t.done, 1), "registering the plates")
		}
	}
}
