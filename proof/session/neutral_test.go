package session_test

import (
	"testing"

	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/tone"
)

func TestFilmsAreSavedAndRead(t *testing.T) {
	s := sessiontest.Opened()
	s.Sources[0].Film.Bend = tone.Bend{{Density: 0.4, Straight: 0.3}, {Density: 1, Straight: 1}, {Density: 1.5, Straight: 1.6}}
	s.Sources[0].Rebate, s.Sources[0].Scan.Kind, s.Sources[0].Scan.Codes.Levels = 0.28, "TIFF", 4000
	s.Neutral = session.Neutral{By: session.ByScale, Greys: []session.Spot{{X: 1, Y: 2}, {X: 30, Y: 2}}, Step: 0.15, Chosen: true, Key: "green", Unsure: 0.03}
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	back, err := session.Read("a.json", text)
	if err != nil || !back.Equal(s) {
		t.Errorf("%v\n%+v\n%+v", err, back.Neutral, back.Sources[0])
	}
}
