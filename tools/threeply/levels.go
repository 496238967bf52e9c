package main

import (
	"flag"
	"fmt"
	"math"
	"strconv"
	"strings"

	"threeply/proof/command"
	"threeply/proof/filter"
	"threeply/proof/levels"
	"threeply/proof/light"
	"threeply/proof/neutral"
	"threeply/proof/plane"
	"threeply/proof/session"
)

// levelOptions are the options by which a command says what the white, the black
// and the contrast of the plates rest on.
type levelOptions struct {
	neutral, scale, assume, step *string
}

// addLevels gives a command these options.
func addLevels(f *flag.FlagSet) levelOptions {
	return levelOptions{
		neutral: f.String("neutral", "", "places of the scene that are grey, in pixels of the key plate: \"x,y;x,y;…\"; from them exposure and contrast of each plate against the key"),
		scale:   f.String("scale", "", "a line along a grey scale in the scene, in pixels of the key plate: \"x,y;x,y\""),
		step:    f.String("step", "", "with -scale: density between its neighbouring steps, such as 0.15, or the density of each\nfrom one end to the other, such as 0.05,0.24,0.51; it makes the contrast of the plates absolute"),
		assume:  f.String("assume", "", "without a grey: what to suppose of the scene's light: "+assumptionIDs()+", or none to take each plate by itself (default "+light.Default+")"),
	}
}

// wanted is what the options ask for.
type wanted struct {
	by    string // session.By…, "" where nothing is asked for
	spots []session.Spot
	steps session.Neutral // Step and Densities: what is known of the steps of a scale
	light string          // id of an assumption, "" for the default
}

// read checks the options before any file is opened.
func (o levelOptions) read() (wanted, error) {
	given := 0
	var w wanted
	var err error
	if *o.neutral != "" {
		given++
		w.by = session.ByGreys
		if w.spots, err = spotsOf("-neutral", *o.neutral); err != nil {
			return w, err
		}
	}
	if *o.scale != "" {
		given++
		w.by = session.ByScale
		if w.spots, err = spotsOf("-scale", *o.scale); err != nil {
			return w, err
		}
		if len(w.spots) != 2 {
			return w, usageError(fmt.Sprintf("-scale takes the two ends of a line, \"x,y;x,y\", not %d places", len(w.spots)))
		}
	}
	if *o.assume != "" {
		given++
		w.by, w.light = session.ByLight, *o.assume
		if _, ok := light.AssumptionByID(w.light); w.light == "none" {
			w.by = session.ByOwn
		} else if !ok {
			return w, usageError(fmt.Sprintf("-assume %s: there are %s and none", w.light, assumptionIDs()))
		}
	}
	if w.steps.Step, w.steps.Densities, err = neutral.ReadSteps(*o.step); err != nil {
		return w, usageError("-step: " + err.Error())
	}
	switch {
	case given > 1:
		return w, usageError("-neutral, -scale and -assume each say what the plates rest on: give one of them")
	case w.steps.Absolute() && w.by != session.ByScale:
		return w, usageError("-step says how far the steps of a grey scale lie apart, so it needs -scale")
	}
	return w, nil
}

func assumptionIDs() string {
	return listed(light.Assumptions(), func(a light.Assumption) string { return a.ID })
}

// spotsOf reads "x,y;x,y;…".
func spotsOf(option, text string) ([]session.Spot, error) {
	var out []session.Spot
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == ' ' }) {
		xs, ys, ok := strings.Cut(part, ",")
		x, errX := strconv.ParseFloat(strings.TrimSpace(xs), 64)
		y, errY := strconv.ParseFloat(strings.TrimSpace(ys), 64)
		if !ok || errX != nil || errY != nil || math.IsNaN(x+y) || math.IsInf(x+y, 0) {
			return nil, usageError(fmt.Sprintf("%s %q: “%s” is not a place; give pixels of the key plate as \"x,y;x,y;…\"", option, text, part))
		}
		out = append(out, session.Spot{X: x, Y: y})
	}
	if len(out) == 0 {
		return nil, usageError(fmt.Sprintf("%s %q: no place is given; give pixels of the key plate as \"x,y;x,y;…\"", option, text))
	}
	return out, nil
}

// basis is what the films of the plates were found to rest on.
type basis struct {
	levels.Levels
	match *neutral.Match    // where greys were compared
	light *light.Comparison // where the light was assumed
}

// find finds the films of a session's plates as wanted, where nothing is wanted by the
// default assumption. planes are at full size, by source.
func (w wanted) find(s *session.State, planes [3]*plane.Plane) (b basis, err error) {
	var m neutral.Match
	of := levels.Planes{By: planes}
	switch w.by {
	case session.ByGreys:
		b.Levels, m, err = levels.ByGreys(s, of, w.spots)
		b.match = &m
	case session.ByScale:
		b.Levels, m, err = levels.ByScale(s, of, w.spots[0], w.spots[1], w.steps)
		b.match = &m
	case session.ByOwn:
		b.Levels = levels.Own(s)
	default:
		id := w.light
		if id == "" {
			id = light.Default
		}
		var c light.Comparison
		b.Levels, c = levels.ByLight(s, of, id)
		b.light = &c
	}
	return b, err
}

// apply finds the films and gives them to the session.
func (w wanted) apply(s *session.State, planes [3]*plane.Plane) (basis, error) {
	b, err := w.find(s, planes)
	if err != nil {
		return b, err
	}
	return b, command.Films(b.Levels).Apply(s)
}

// words say, a line each, what the films rest on.
func (b basis) words() []string {
	switch {
	case b.match != nil:
		lines := []string{fmt.Sprintf("Neutrals: %d greys, compared with the %s plate.", len(b.match.Greys), filter.Filter(b.match.Key))}
		for i := range b.match.Plates {
			if w := b.match.Words(i); w != "" {
				lines = append(lines, w)
			}
		}
		for _, g := range b.match.Odd {
			lines = append(lines, fmt.Sprintf("The place at %.0f,%.0f was left out: it is not grey as the others are.", g.X, g.Y))
		}
		for _, g := range b.match.Greys {
			if g.Uneven {
				lines = append(lines, fmt.Sprintf("The place at %.0f,%.0f lies on an edge or on texture.", g.X, g.Y))
			}
		}
		return lines
	case b.light != nil && b.Neutral.By == session.ByLight:
		a, _ := light.AssumptionByID(b.Neutral.Light)
		return []string{fmt.Sprintf("Neutrals: by an assumption, %s: %s.", a.Name, a.Says), b.light.Words}
	case b.light != nil:
		return []string{b.light.Words}
	}
	return []string{"Neutrals: each plate is taken by itself."}
}

// lines writes each note on a line of its own.
func lines(notes []string) string {
	if len(notes) == 0 {
		return ""
	}
	return strings.Join(notes, "\n") + "\n"
}
