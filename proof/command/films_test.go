package command

import (
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/tone"
)

func TestFilmSetsWhatItNames(t *testing.T) {
	h := NewHistory(sessiontest.Opened())
	white, gamma := 1.8, 0.7
	was := h.Sources[1].Film
	if err := h.Do(Film{Source: 1, White: &white, Gamma: &gamma}, ""); err != nil {
		t.Fatal(err)
	}
	if f := h.Sources[1].Film; f.White != 1.8 || f.Gamma != 0.7 || f.Black != was.Black || h.Neutral.By != session.ByHand {
		t.Errorf("%+v, by %s", f, h.Neutral.By)
	}
	low, nonsense := was.Black-0.1, 99.0
	for _, c := range []Film{{Source: 1, White: &low}, {Source: 1, White: &was.Black}, {Source: 1, Black: &nonsense}, {Source: 3}, {Source: 1, Gamma: &nonsense}} {
		if err := h.Do(c, ""); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
	if err := h.Undo(); err != nil || h.Sources[1].Film != was {
		t.Errorf("undone: %+v (%v)", h.Sources[1].Film, err)
	}
}

// What register finds of films goes in with it, but not over what the user
// measured or set.
func TestRegisteredKeepsTheUsersFilms(t *testing.T) {
	found := Films{Neutral: session.Neutral{By: session.ByLight, Light: "white-patch"}}
	for i := range found.Films {
		found.Films[i] = tone.Film{Negative: true, White: 1.9, Black: 0.2, Gamma: 0.8}
	}
	begin := sessiontest.Opened()
	c := Registered{Found: begin.Found, FoundKey: begin.KeySource(), Levels: &found}
	h := NewHistory(begin)
	if err := h.Do(c, ""); err != nil || h.Sources[2].Film.White != 1.9 || h.Neutral.By != session.ByLight {
		t.Errorf("%+v, by %q (%v)", h.Sources[2].Film, h.Neutral.By, err)
	}
	for _, n := range []session.Neutral{{By: session.ByGreys}, {By: session.ByScale}, {By: session.ByHand}, {By: session.ByLight, Light: "grey-world", Chosen: true}, {By: session.ByOwn, Chosen: true}} {
		begin.Neutral = n
		h = NewHistory(begin)
		if err := h.Do(c, ""); err != nil || h.Sources[2].Film != begin.Sources[2].Film || h.Neutral.By != n.By || h.Neutral.Light != n.Light {
			t.Errorf("the user's films went: %+v, by %q (%v)", h.Sources[2].Film, h.Neutral.By, err)
		}
	}
	// A plate that was made a positive while register was under way.
	begin.Neutral = session.Neutral{}
	begin.Sources[2].Film = tone.Film{White: 0.2, Black: 1.9, Gamma: 1}
	h = NewHistory(begin)
	if err := h.Do(c, ""); err != nil || h.Registered != "auto" || h.Sources[2].Film != begin.Sources[2].Film {
		t.Errorf("register is lost, or its films were forced on a positive: %+v (%v)", h.Sources[2].Film, err)
	}
	found.Films[0].Negative = false
	if err := h.Do(found, ""); err == nil {
		t.Error("films of a positive were taken for a negative")
	}
}

func TestPolarityBeginsTheFilmAnew(t *testing.T) {
	s := sessiontest.Opened()
	s.Sources[0].Base, s.Sources[0].Max = 0.35, 1.7
	s.Sources[0].Film = tone.Film{Negative: true, White: 2.1, Black: 0.1, Gamma: 0.9, Bend: tone.Bend{{Density: 0.4, Straight: 0.3}, {Density: 1, Straight: 1}}}
	s.Neutral.By = session.ByGreys
	h := NewHistory(s)
	if err := h.Do(Polarity{Source: 0, Polarity: "positive"}, ""); err != nil {
		t.Fatal(err)
	}
	if want := (tone.Film{White: 0.35, Black: 1.7, Gamma: session.DefaultGamma(false)}); h.Sources[0].Film != want || h.Neutral.By != "" {
		t.Errorf("%+v, by %q; want %+v", h.Sources[0].Film, h.Neutral.By, want)
	}
}
