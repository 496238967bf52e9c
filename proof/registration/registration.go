// Package registration registers the plates of a session, and holds what that
// leaves at each place.
package registration

import (
	"context"
	"fmt"

	"threeply/proof/affine"
	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/place"
	"threeply/proof/plane"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/survey"
	"threeply/proof/verdict"
	"threeply/proof/warp"
)

// Registration is what Register found, by source.
type Registration struct {
	Found    [3]session.Found
	FoundKey int                  // source that the others were registered to
	Local    [3]warp.Local        // smooth rest, W 0 where none can be told
	Outvoted [3]float64           // share of the places measured with certainty that lie elsewhere
	Tones    [3]float64           // correlation of its densities with the key's
	Survey   [3]survey.Map        // what was measured of each plate, in the found frame's pixels
	Left     [3][]register.Offset // residual fields in the found frame's pixels, thinned, hottest first
	ByFound  bool                 `json:",omitempty"` // from then on the plates lie by what was found, if they lay by marks before
	Levels   *levels.Levels       `json:",omitempty"` // the films of the three together, by the default assumption on the light; nil of Refine
	Seen
}

// Seen is what Look saw of plates in register, by source.
type Seen struct {
	Looked bool           `json:",omitempty"` // false where Look was not called
	Scale  *levels.Levels `json:",omitempty"` // films by a grey scale that seems to lie in the picture; nil for none
	Blur   [3]float64     // of the plates' sharpest edges, key pixels; 0 where it is not known

	Proposal Proposal
}

// Command is what makes a session lie by what was found.
func (r Registration) Command() command.Registered {
	c := command.Registered{Found: r.Found, FoundKey: r.FoundKey, Local: r.Local, Outvoted: r.Outvoted, Tones: r.Tones, Survey: r.Survey, ByFound: r.ByFound}
	if r.Levels != nil {
		films := command.Films(*r.Levels)
		c.Levels = &films
	}
	return c
}

// ByScale is Command with the films that the scale gives, where one was found: for
// pictures that are known to hold one. Elsewhere a scale is proposed only.
func (r Registration) ByScale() command.Registered {
	c := r.Command()
	if r.Scale != nil {
		films := command.Films(*r.Scale)
		c.Levels = &films
	}
	return c
}

// Look looks at a state's planes, by source, as a register found them: for a grey scale in the picture,
// how sharp each plate is, and which would make the best key.
func Look(s *session.State, planes [3]*plane.Plane) Seen {
	out := Seen{Looked: true}
	blur := levels.Overlay(s, levels.Planes{By: planes}).Blur()
	for _, f := range filter.All {
		out.Blur[s.Assign[f]] = blur[f]
	}
	small := levels.Planes{By: planes, Level: levels.EnoughLevel(s)}
	for range small.Level {
		for i, p := range small.By {
			small.By[i] = p.Half()
		}
	}
	out.Scale = levels.Proposed(s, small)
	out.Proposal = Propose(s, planes)
	return out
}

// On is a state as it lies once r was found.
func (r *Registration) On(s *session.State) session.State {
	in := *s
	in.Found, in.FoundKey, in.Local, in.Survey, in.Registered = r.Found, r.FoundKey, r.Local, r.Survey, "auto"
	return in
}

// Proposal is the plate that would make the best key.
type Proposal struct {
	Key string // its filter, "" where none was looked for
	Why string // one sentence
}

// Propose tells which plate of a state would make the best key, by its planes, by source, as a register
// found them; the zero Proposal where none did.
func Propose(s *session.State, planes [3]*plane.Plane) Proposal {
	if s.FoundKey < 0 {
		return Proposal{}
	}
	var found [3]register.Plate
	for i, f := range s.Found {
		found[i] = register.Plate{Matrix: f.Matrix, Confidence: f.Confidence, Twin: f.Twin}
	}
	found[s.FoundKey].Confidence = 1
	opt := options(s)
	opt.Key = s.FoundKey
	var names [3]string
	for _, f := range filter.All {
		names[s.Assign[f]] = f.String()
	}
	key := register.Propose(planes, opt, found, names)
	return Proposal{names[key.Key], key.Why}
}

// options are what a state knows of its plates beforehand.
func options(s *session.State) register.Options {
	opt := register.Options{Key: s.KeySource()}
	for i, src := range s.Sources {
		opt.Polarity[i], opt.Area[i] = src.Film.Negative, src.Area
	}
	return opt
}

// One registers the plate of a source to the state's key, for a Together elsewhere. The other
// planes are not read. Its errors are ctx's.
func One(ctx context.Context, s *session.State, planes [3]*plane.Plane, i int, tell func(done float64)) (register.Plate, error) {
	k := s.KeySource()
	key, src := s.Sources[k], s.Sources[i]
	return register.One(ctx, planes[k], planes[i], [2]bool{key.Film.Negative, src.Film.Negative}, [2][4]int{key.Area, src.Area}, tell)
}

// Register registers the state's planes, by source, to its key.
func Register(ctx context.Context, s *session.State, planes [3]*plane.Plane, progress func(done float64, what string)) (Registration, error) {
	return Together(ctx, s, planes, nil, progress)
}

// Together is Register where another program may register one of the plates at the same time;
// see register.Options.Elsewhere. What it finds is the same.
func Together(ctx context.Context, s *session.State, planes [3]*plane.Plane, elsewhere func(source int) (register.Plate, bool), progress func(done float64, what string)) (Registration, error) {
	opt := options(s)
	opt.Progress, opt.Elsewhere = progress, elsewhere
	plates, err := register.Planes(ctx, planes, opt)
	out := Registration{FoundKey: s.KeySource()}
	w, h := s.Frame()
	for i, p := range plates {
		twinOfKey := plates[s.KeySource()].Twin
		out.Found[i], out.Outvoted[i], out.Tones[i] = found(s, i, p, twinOfKey), p.Outvoted, p.Tones
		out.Left[i], out.Survey[i] = left(p.Field, w, h), p.Survey
		if i != s.KeySource() {
			out.Local[i] = local(p, w, h)
		}
	}
	if err == nil {
		in := out.On(s)
		l, _ := levels.ByLight(&in, levels.Planes{By: planes}, light.Default)
		out.Levels = &l
	}
	return out, err
}

// Refine measures source i again from where it lies now, by marks too, and leaves the others
// where they lie. Where too few places agree it returns an error that says so.
func Refine(ctx context.Context, s *session.State, planes [3]*plane.Plane, i int, progress func(done float64, what string)) (Registration, error) {
	out := Registration{Found: s.Found, FoundKey: s.FoundKey, Local: s.Local, Outvoted: s.Outvoted, Tones: s.Tones, Survey: s.Survey}
	k := s.KeySource()
	if out.FoundKey < 0 { // nothing was registered before: the key's pixels are the frame
		out.FoundKey = k
	}
	if i < 0 || i > 2 || i == k {
		return out, fmt.Errorf("no source %d to measure against the key", i)
	}
	key, src := s.Sources[k], s.Sources[i]
	p, err := register.Refine(ctx, planes[k], planes[i], [2]bool{key.Film.Negative, src.Film.Negative}, [2][4]int{key.Area, src.Area}, place.Register(s, i), progress)
	if err != nil {
		return out, err
	}
	if p.Confidence < register.FoundFrom {
		return out, fmt.Errorf("%s: measured from where it lies, too few places agree with the key, so it stays there; lay it nearer, or pin marks", src.File)
	}
	out.Found[i], out.Outvoted[i], out.Local[i] = found(s, i, p, false), p.Outvoted, warp.Local{}
	out.Survey[i] = survey.Map{}
	out.Found[i].Twin, out.Found[i].Alike = s.Found[i].Twin, s.Found[i].Alike
	if frame := s.Found[k].Matrix; out.FoundKey == k && frame == affine.Identity {
		w, h := s.Frame()
		out.Left[i], out.Local[i], out.Survey[i] = left(p.Field, w, h), local(p, w, h), p.Survey
	} else {
		out.Found[i].Matrix = p.Matrix.Mul(frame)
	}
	if s.By != session.ByRegister {
		out.ByFound = true
		out.hold(s, 3-i-k)
	}
	return out, nil
}

// hold keeps source i where its marks lay it, though marks count no more: as found, where
// that is the same place, and else as if by hand.
func (r *Registration) hold(s *session.State, i int) {
	const same = 1 // pixel of the plate, at the corner where the two places are furthest apart
	way, was := place.WayOf(s, i), s.Found[i]
	switch {
	case way != place.WayMarks && way != place.WayBoth:
		return
	case s.Registered == "auto" && was.Confidence >= register.FoundFrom && verdict.OfMarks(s, i).Corner <= same:
		return
	}
	r.Found[i] = session.Found{Matrix: place.Register(s, i).Mul(s.Found[s.KeySource()].Matrix), Words: "placed by marks", ByHand: true, Twin: was.Twin, Alike: was.Alike}
	r.Local[i], r.Survey[i] = warp.Local{}, survey.Map{}
}

// found is what a session keeps of source i, as it was registered.
func found(s *session.State, i int, p register.Plate, twinOfKey bool) session.Found {
	w, h := s.Frame()
	words := verdict.FoundWords(p, verdict.Size{w, h}, verdict.Size{s.Sources[i].W, s.Sources[i].H}, twinOfKey)
	return session.Found{Matrix: p.Matrix, Confidence: p.Confidence, Words: words,
		Median: p.Residual.Median, P95: p.Residual.P95, Max: p.Residual.Max, Twin: p.Twin, Alike: p.Alike}
}

// local is the local register that a registered plate's patches give for a
// key of w × h pixels, W 0 where they give none.
func local(p register.Plate, w, h int) warp.Local {
	if l, ok := register.Smooth(p.Field, w, h); ok {
		return l
	}
	return warp.Local{}
}
