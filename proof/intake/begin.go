// Package intake gives the session that a set of plates is opened with.
package intake

import (
	"fmt"

	"threeply/proof/plate"
	"threeply/proof/session"
	"threeply/proof/tone"
)

// Begin returns the state that a set of plates is opened with.
func Begin(set *plate.Set) session.State {
	s := session.New()
	s.Layout = string(set.Layout)
	s.Assign, s.Split = set.Assign, set.Split
	s.Neutral.By = session.ByOwn
	for i, p := range set.Sources {
		negative := p.Polarity == plate.Negative
		s.Sources[i] = session.Source{
			File: p.Name, SHA256: p.SHA256, Part: p.Part, W: p.W, H: p.H, Bits: p.Bits, PPI: p.PPI, Encoding: p.Encoding,
			Film: tone.Film{Negative: negative, White: p.White, Black: p.Black, Gamma: session.DefaultGamma(negative)},
			Sure: p.PolaritySure, Base: p.Base, Max: p.Max, Area: p.Area,
			Remarks: remarks(p), Rebate: p.Rebate, Scan: p.Scan,
		}
	}
	s.Title = titleOf(set)
	return s
}

// mostClipped is the share of a plate's picture at one limit of its scanner
// from which it is remarked upon: specks of dust and highlights stay below.
const mostClipped = 0.01

// remarks are what a person should know of a scan before relying on it.
func remarks(p plate.Source) []string {
	var out []string
	if p.Pictures > 1 {
		out = append(out, fmt.Sprintf("the file holds %d pictures; the first was taken", p.Pictures))
	}
	out = append(out, p.Remarks...)
	for i, limit := range [2]string{"clear", "black"} {
		if share := p.Scan.Clipped[i]; share > mostClipped {
			out = append(out, fmt.Sprintf("%.0f %% of the picture is clipped at the scanner’s %s; scan it again with more room if you can", 100*share, limit))
		}
	}
	return out
}
