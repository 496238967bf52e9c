package prints

import (
	"iter"
	"slices"

	"threeply/proof/picture"
	"threeply/proof/session"
)

// known are the printings that were worked out last, the one that was asked for last at first: a
// palette that is chosen again, or whose depth is known, is there at once.
type known []*picture.Printing

const mostKnown = 16 // of some 1.5 MB each

// of is the printing of a session, worked out where it is not known. It fails as picture.Prepare does.
func (k *known) of(s *session.State) (*picture.Printing, error) {
	return k.byPieces(s, func() {})
}

// byPieces is of with a pause between pieces of the work.
func (k *known) byPieces(s *session.State, pause func()) (*picture.Printing, error) {
	if p := k.get(s); p != nil {
		k.take(p)
		return p, nil
	}
	p, err := picture.PrepareByPieces(s, pause)
	if err == nil {
		k.take(p)
	}
	return p, err
}

// pieces works out the printing of a session, a piece at each call, and tells whether more may be.
// done is told in the end.
func (k *known) pieces(s *session.State, done func(*picture.Printing, error)) (piece func() (more bool)) {
	next, _ := iter.Pull(func(yield func(struct{}) bool) {
		done(k.byPieces(s, func() { yield(struct{}{}) }))
	})
	return func() bool { _, more := next(); return more }
}

// get is the printing of a session where it is known, else nil.
func (k known) get(s *session.State) *picture.Printing {
	if i := slices.IndexFunc(k, func(p *picture.Printing) bool { return p.Fits(s) }); i >= 0 {
		return k[i]
	}
	return nil
}

// take puts a printing first. It takes the place of one that differs from it in the palette's
// content alone: while a tissue is edited each state is seen once.
func (k *known) take(p *picture.Printing) {
	rest := slices.DeleteFunc(*k, func(old *picture.Printing) bool { return old == p || sameButContent(old, p) })
	*k = slices.Insert(rest, 0, p)
	if len(*k) > mostKnown {
		clear((*k)[mostKnown:])
		*k = (*k)[:mostKnown]
	}
}

func sameButContent(a, b *picture.Printing) bool {
	x, y := &a.Recipe, &b.Recipe
	return x.Palette.ID == y.Palette.ID && x.Order == y.Order && x.Paper.ID == y.Paper.ID && x.Surface == y.Surface &&
		a.Light.ID == b.Light.ID && a.Dim == b.Dim && a.Limit == b.Limit
}
