//go:build js

package main

import (
	"context"
	"encoding/json"
	"syscall/js"

	"threeply/proof/plane"
	of "threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
)

// The pixels of three plates that two workers open or register side by side: fewer are done
// before a second worker has begun, and of more the memory is too much, for each holds a plate,
// and the key where it registers.
const leastTogether, mostTogether = 3 * 8_000_000, 3 * 40_000_000

// register: session, and refine, the source that is measured again from where
// it lies, where only that is wanted; look, where the picture is looked at too; together, where
// another worker may register a plate meanwhile, which is asked for as {id, turn: {register}} →
// what was found and what is left, as text.
func register(m js.Value, progress func(float64, string)) (any, []any, error) {
	return ofPlates(m, func(ctx context.Context, s *session.State, fail context.CancelCauseFunc) (any, error) {
		one := m.Get("refine")
		var other func(int) (of.Plate, bool)
		pixels := 0
		for _, src := range s.Sources {
			pixels += src.W * src.H
		}
		if m.Get("together").Truthy() && one.Type() != js.TypeNumber && leastTogether <= pixels && pixels <= mostTogether {
			other = elsewhere[of.Plate](m, "register", (s.KeySource()+1)%3)
		}
		planes, err := pyramids(m, s, fail)
		if err != nil {
			return nil, err
		}
		if one.Type() == js.TypeNumber {
			return registration.Refine(ctx, s, planes, one.Int(), progress)
		}
		found, err := registration.Together(ctx, s, planes, other, progress)
		if err == nil && m.Get("look").Truthy() {
			lies := found.On(s)
			found.Seen = registration.Look(&lies, planes)
		}
		return found, err
	})
}

// look: session, of plates in register → what is seen of them, a registration.Seen as text.
func look(m js.Value, _ func(float64, string)) (any, []any, error) {
	return ofPlates(m, func(_ context.Context, s *session.State, fail context.CancelCauseFunc) (any, error) {
		planes, err := pyramids(m, s, fail)
		if err != nil {
			return nil, err
		}
		return registration.Look(s, planes), nil
	})
}

// registerOne: session, source → what was found of that plate, as text.
func registerOne(m js.Value, _ func(float64, string)) (any, []any, error) {
	return ofPlates(m, func(ctx context.Context, s *session.State, fail context.CancelCauseFunc) (any, error) {
		source, planes := m.Get("source").Int(), unread(s)
		for _, i := range [2]int{s.KeySource(), source} {
			var err error
			if planes[i], err = pyramidOf(m.Get("id"), i, planes[i].W, planes[i].H, fail); err != nil {
				return nil, err
			}
		}
		return registration.One(ctx, s, planes, source, func(float64) {})
	})
}

// ofPlates gives what find finds of a message's session, as text. find has fail told of a part of the
// plates that does not come, which ends ctx.
func ofPlates(m js.Value, find func(ctx context.Context, s *session.State, fail context.CancelCauseFunc) (any, error)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	ctx, fail := context.WithCancelCause(context.Background())
	defer fail(nil)
	found, err := find(ctx, &s, fail)
	if why := context.Cause(ctx); why != nil {
		err = why
	}
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(found)
	return string(text), nil, err
}

// pyramids are a session's plates, by source, had from the page as they are read; see pyramidOf.
func pyramids(m js.Value, s *session.State, fail context.CancelCauseFunc) (planes [3]*plane.Plane, err error) {
	for i, src := range s.Sources {
		if planes[i], err = pyramidOf(m.Get("id"), i, src.W, src.H, fail); err != nil {
			return planes, err
		}
	}
	return planes, nil
}

// elsewhere has another worker do something of a source, asked for as {id, turn: {what:
// source}}, and gives what waits for what it finds.
func elsewhere[Found any](m js.Value, what string, source int) func(int) (Found, bool) {
	answer := beginAsking(m.Get("id"), map[string]any{what: source})
	return func(i int) (found Found, ok bool) {
		if i != source {
			return found, false
		}
		text := (<-answer).Get("found")
		return found, text.Type() == js.TypeString && json.Unmarshal([]byte(text.String()), &found) == nil
	}
}
