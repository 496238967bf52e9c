package picture

import (
	"context"

	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// ThumbSide bounds the smallest level of a plate's pyramid, which is shown as
// its thumbnail.
const ThumbSide = 320

// Begin returns the state that a set of plates is opened with.
func Begin(set *plate.Set) session.State {
	s := session.New()
	s.Layout = string(set.Layout)
	s.Assign = set.Assign
	for i, p := range set.Sources {
		negative := p.Polarity == plate.Negative
		s.Sources[i] = session.Source{
			File: p.Name, W: p.W, H: p.H, Bits: p.Bits, PPI: p.PPI, Encoding: p.Encoding,
			Film: tone.Film{Negative: negative, White: p.White, Black: p.Black, Gamma: session.DefaultGamma(negative)},
			Sure: p.PolaritySure, Base: p.Base, Max: p.Max, Area: p.Area,
		}
	}
	s.Title = titleOf(set)
	return s
}

// Registration is what Register found, by source.
type Registration struct {
	Found [3]session.Found     // as the command "registered" takes it
	Local [3]register.Local    // smooth rest, W 0 where none can be told
	Left  [3][]register.Offset // residual fields in the key's pixels, thinned, hottest first
}

// Register registers the state's planes, by source, to its key.
func Register(ctx context.Context, s *session.State, planes [3]*plane.Plane, progress func(done float64, what string)) (Registration, error) {
	opt := register.Options{Key: s.KeySource(), Progress: progress}
	for i, src := range s.Sources {
		opt.Polarity[i], opt.Area[i] = src.Film.Negative, src.Area
	}
	plates, err := register.Planes(ctx, planes, opt)
	var out Registration
	w, h := s.Frame()
	for i, p := range plates {
		out.Found[i], out.Left[i] = FoundIn(p), left(p.Field, w, h)
		if l, ok := register.Smooth(p.Field, w, h); ok && i != s.KeySource() {
			out.Local[i] = l
		}
	}
	return out, err
}

// FoundIn is what a session keeps of a registered plate.
func FoundIn(p register.Plate) session.Found {
	return session.Found{Matrix: p.Matrix, Confidence: p.Confidence, Words: p.Words,
		Median: p.Residual.Median, P95: p.Residual.P95, Max: p.Residual.Max}
}
