package session

// TakeSettings takes from another session what does not depend on its scans: tissues,
// paper, light, route, the print and how it is looked at, the offsets of its layers,
// the title, the names of files, printing negatives and workshop, the exhibition, held prints, and palettes and papers of one's own
// with its test sheets and what was written down of one.
func (s *State) TakeSettings(from State) {
	s.Title = from.Title
	s.OwnPalettes, s.OwnPapers, s.Sight = from.OwnPalettes, from.OwnPapers, from.Sight
	s.Printed, s.TestSheet = from.Printed, from.TestSheet
	s.Palette, s.Order, s.Paper, s.Finish = from.Palette, from.Order, from.Paper, from.Finish
	s.Light, s.Dim, s.Limit, s.Masked, s.Way, s.Unknowns, s.Route, s.OwnRoute = from.Light, from.Dim, from.Limit, from.Masked, from.Way, from.Unknowns, from.Route, from.OwnRoute
	s.Held, s.Exhibition = from.Held, from.Exhibition
	s.PrintWidth, s.ViewingDist, s.Tolerance = from.PrintWidth, from.ViewingDist, from.Tolerance
	s.Names = from.Names
	s.Negatives, s.Workshop = from.Negatives, from.Workshop
	s.Offsets, s.Locked, s.Hidden, s.Grain, s.Bench = from.Offsets, from.Locked, from.Hidden, from.Grain, from.Bench
}
