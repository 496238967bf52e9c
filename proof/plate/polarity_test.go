package plate

import (
	"math"
	"testing"

	"threeply/proof/plane"
)

func TestPolarityOfAnInventedScene(t *testing.T) {
	for seed := range uint64(4) {
		scene := sceneCodes(600, 480, seed)
		for _, c := range []struct {
			name string
			p    *plane.Plane
			want Polarity
		}{
			{"positive", framed(scene, 30, 30, 30, 30, 3), Positive},
			{"negative", framed(filmed(scene, 0.75, 0.25, 1.9), 30, 30, 30, 30, 0.25), Negative},
			{"borderless positive", scene, Positive},
			{"borderless negative", filmed(scene, 0.75, 0.25, 1.9), Negative},
		} {
			var s Source
			s.Measure(c.p)
			if s.Polarity != c.want || s.PolaritySure < 0.4 {
				t.Errorf("seed %d, %s: %s, sure %.2f", seed, c.name, s.Polarity, s.PolaritySure)
			}
		}
	}
}

func TestPolarityOfNothingIsUnsure(t *testing.T) {
	for _, p := range []*plane.Plane{plane.New(1, 1), plane.New(300, 200), plane.New(9, 9)} {
		var s Source
		s.Measure(p)
		if s.PolaritySure != 0 || math.IsNaN(s.Base+s.Max) {
			t.Errorf("%d × %d of one tone: %+v", p.W, p.H, s)
		}
	}
}

func TestVote(t *testing.T) {
	for _, c := range []struct {
		polarity [3]Polarity
		sure     [3]float64
		want     [3]Polarity
		split    bool
	}{
		{[3]Polarity{Negative, Positive, Negative}, [3]float64{0.6, 0.3, 0.5}, [3]Polarity{Negative, Negative, Negative}, false},
		{[3]Polarity{Negative, Positive, Negative}, [3]float64{0.1, 0.9, 0.2}, [3]Polarity{Positive, Positive, Positive}, false},
		{[3]Polarity{Negative, Positive, Negative}, [3]float64{0.95, 0.9, 0.9}, [3]Polarity{Negative, Positive, Negative}, true},
	} {
		var set Set
		for i := range set.Sources {
			set.Sources[i] = Source{Polarity: c.polarity[i], PolaritySure: c.sure[i], Base: 0.2, Max: 1.5}
			set.Sources[i].SetPolarity(c.polarity[i])
		}
		set.vote()
		for i, s := range set.Sources {
			if s.Polarity != c.want[i] || set.Split != c.split || (s.White == 1.5) != (s.Polarity == Negative) {
				t.Errorf("%v %v: %+v, split %v", c.polarity, c.sure, s, set.Split)
			}
		}
	}
}

// The hit rates are of whole sets, by the vote of three plates. None of it is
// held out: the weights were fitted on these pictures, their inversions and the
// three film curves, and fogWeight was set by hand after the plates without
// borders. The rates say that the clues fit together, not how other scans fare.
func TestPolarityOnRealPlates(t *testing.T) {
	films := [][3]float64{{0.75, 0.25, 1.9}, {0.6, 0.1, 1.6}, {0.9, 0.3, 2.2}}
	type tally struct{ hits, sets, sureAndWrong int }
	results := map[string]*tally{}
	var bands [4]tally // by certainty, in quarters
	judge := func(kind, file string, want Polarity, planes [3]*plane.Plane) {
		var set Set
		for i, p := range planes {
			set.Sources[i].Measure(p)
		}
		set.vote()
		r := results[kind]
		if r == nil {
			r = &tally{}
			results[kind] = r
		}
		r.sets++
		got := set.Sources[0]
		band := &bands[min(int(4*got.PolaritySure), 3)]
		band.sets++
		if !set.Split && got.Polarity == want {
			r.hits++
			band.hits++
			return
		}
		t.Logf("%s as %s: %s, sure %.2f, split %v", file, kind, got.Polarity, got.PolaritySure, set.Split)
		if got.PolaritySure > 0.9 {
			r.sureAndWrong++
		}
	}
	for _, folder := range []string{"plates", "photos"} {
		opt := Options{}
		if folder == "photos" {
			opt.Layout = Channels
		}
		for _, file := range shared(t, folder) {
			set := openFile(t, file, opt)
			var positives, inverted [3]*plane.Plane
			for i, p := range set.Density {
				positives[i] = p.Half() // for the many that follow: a quarter of the time
				inverted[i] = turnedOver(p)
			}
			judge(folder+" as they are", file, Positive, set.Density)
			judge(folder+" with codes inverted", file, Negative, inverted)
			var cropped, hard [3]*plane.Plane
			for i, p := range positives {
				a := areaOf(p)
				cropped[i] = p.Crop(a[0], a[1], a[2]-a[0], a[3]-a[1])
				hard[i] = filmed(cropped[i], 1.1, 0.4, 1.5)
			}
			judge(folder+" without borders", file, Positive, cropped)
			judge(folder+" without borders through another film", file, Negative, hard)
			for _, f := range films {
				var negatives [3]*plane.Plane
				for i, p := range positives {
					negatives[i] = filmed(p, f[0], f[1], f[2])
				}
				judge(folder+" through film curves", file, Negative, negatives)
			}
		}
	}
	for i, b := range bands {
		t.Logf("certainty from %.2f: %d of %d right", float64(i)/4, b.hits, b.sets)
	}
	for kind, r := range results {
		t.Logf("%s: %d of %d sets, %d sure and wrong", kind, r.hits, r.sets, r.sureAndWrong)
		// Inverted photographs have neither border nor base fog: no negatives
		// of any film, and only reported.
		if kind != "photos with codes inverted" && float64(r.hits) < 0.95*float64(r.sets) {
			t.Errorf("%s: only %d of %d sets", kind, r.hits, r.sets)
		}
		if r.sureAndWrong > 0 {
			t.Errorf("%s: %d sets sure and wrong", kind, r.sureAndWrong)
		}
	}
}

// turnedOver inverts the sRGB codes behind a density plane, as a picture
// editor would.
func turnedOver(p *plane.Plane) *plane.Plane {
	return mapped(p, func(d float64) float64 {
		v := 1 - (1.055*math.Pow(10, -d/2.4) - 0.055)
		return -2.4 * math.Log10((v+0.055)/1.055)
	})
}
