package model

import (
	"fmt"

	"threeply/proof/session"
	"threeply/proof/words"
	"threeply/wasm/page/view"
)

// Residual is what the last register left over at places of the picture.
type Residual struct {
	Left Left `json:"left"`
}

// Left is that in words, and as arrows over the pictures.
type Left struct {
	Have   bool          `json:"have"`
	Shown  bool          `json:"shown"` // the user asks for the arrows in every look
	Words  string        `json:"words"`
	Place  string        `json:"place"`  // one of the worst places, in a sentence
	Short  string        `json:"short"`  // the same over the picture
	Frames []view.Arrows `json:"frames"` // as Stage.Frames; empty where nothing of it is drawn
}

type residualOn struct {
	view     view.View     // see panesOf
	session  session.State // see layingOf
	residual view.Residual
}

func onResidual(in Input) residualOn {
	return residualOn{panesOf(in.View), layingOf(in.Session), *in.Residual}
}

func makeResidual(on residualOn) Residual {
	v, s, r := &on.view, &on.session, &on.residual
	out := Left{Have: r.Known(s), Shown: v.Arrows, Frames: []view.Arrows{}}
	switch {
	case !open(s):
		return Residual{out}
	case !out.Have:
		out.Words = "Nothing is known of what is left: register the plates."
		if s.Registered == "auto" && r.Found != s.Found {
			out.Words = "What this register left is no longer at hand: register again to see it."
		}
		return Residual{out}
	}
	scale := r.ArrowScale(s)
	out.Words = fmt.Sprintf("An offset of 1 px of the scan is drawn %g px of the screen long. Hatched: nothing measured there.", scale)
	at := v.WorstAt(s)
	if at != nil {
		out.Place, out.Short = placeWords(s, at)
	}
	if at != nil || v.ArrowsShown() {
		for _, p := range v.Panes() {
			out.Frames = append(out.Frames, v.ArrowsIn(s, p, r, scale))
		}
	}
	return Residual{out}
}

// placeWords says what is left at one of the worst places, with the print as it is now,
// in a sentence and in short.
func placeWords(s *session.State, at *view.WorstPlace) (long, short string) {
	short = fmt.Sprintf("%d of %d: %s and %s %.2f px apart", at.N, at.Of, at.First, at.Second, at.Off)
	long = fmt.Sprintf("Place %d of %d: the %s and the %s plate lie %.2f px apart (%s on the print).",
		at.N, at.Of, at.First, at.Second, at.Off, words.Microns(at.Off*s.PixelMicrons()))
	if at.Moved {
		short += ", elsewhere"
		long += " One of them lies elsewhere there than the rest of its plate; these figures do not tell why."
	}
	return long, short
}
