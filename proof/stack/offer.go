package stack

import "threeply/proof/transfer"

// Offer is a finish that a route can give, and when.
type Offer struct {
	Finish
	When string // a clause, such as "where the clear support is polished"
}

// Offers returns the finishes that a route can give, the likeliest first. The last
// support that the layers are stripped from gives the print its surface, as a cast
// (L. P. Clerc, Photography, Theory and Practice, § 657); on a paper that the
// layers go straight onto, the relief dries free, without a gloss. What each kind
// of support gives is common practice.
func Offers(r transfer.Route) []Offer {
	n := len(r.Supports)
	if n < 2 {
		return []Offer{
			{Satin, "as the relief dries on a smooth, sized paper"},
			{Matt, "on a matt or absorbent paper"},
		}
	}
	cast := r.Supports[n-2]
	return []Offer{
		{Gloss, "where the " + cast + " is polished, such as glass or clear film"},
		{Satin, "where the " + cast + " is waxed paper or a film with a fine grain"},
		{Matt, "where the " + cast + " is matted"},
	}
}

// Offered tells whether a route can give the finish of that id.
func Offered(r transfer.Route, finish string) bool {
	for _, o := range Offers(r) {
		if o.ID == finish {
			return true
		}
	}
	return false
}

// MeasureSized says how a paper of the user's own is to be measured.
const MeasureSized = "Measure your paper as it will be printed on: with its size, dry, over the same backing."
