package desk

import "slices"

// Kept is what the browser kept before there were documents: the text of one
// session, and its scans.
type Kept struct {
	Session string
	Files   []File
	Options Options
}

// WakeOld is Wake for a browser that has kept a session and its scans before there
// were documents, and nothing since.
func (d *Desk) WakeOld(k Kept) {
	if d.open == nil && d.coming == nil && len(k.Files) > 0 {
		d.come(&coming{files: k.Files, options: k.Options, old: k.Session})
	}
}

// Wake begins the day: cards are the texts of all kept documents, tab the one that
// this tab had open when it was last loaded, "" for a new tab. The document of the
// tab is opened again, else the one that was changed last, else the demonstration
// set. Where files were brought already, they come first.
func (d *Desk) Wake(cards []string, tab string) {
	d.cards = append(readCards(cards), d.cards...)
	for _, k := range d.Cards() {
		if k.Gathered != nil && d.gathering == nil {
			d.takeUpGathering(k)
		}
	}
	if d.open != nil || d.coming != nil {
		return
	}
	all := slices.DeleteFunc(d.Cards(), func(k Card) bool { return k.Removed || k.Gathered != nil })
	i := max(slices.IndexFunc(all, func(k Card) bool { return k.ID == tab }), 0)
	if len(all) == 0 {
		d.Demo()
		return
	}
	d.Restore(all[i].ID)
}
