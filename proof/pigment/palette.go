package pigment

import "slices"

// Printer is one of the three layers, named by its colour.
type Printer int

// The printers, in the order in which amounts are given everywhere. The yellow
// one is made by the blue-filter plate, magenta by green, cyan by red.
const (
	Yellow Printer = iota
	Magenta
	Cyan
)

// Printers lists all three.
func Printers() [3]Printer { return [3]Printer{Yellow, Magenta, Cyan} }

func (p Printer) String() string {
	switch p {
	case Yellow:
		return "yellow"
	case Magenta:
		return "magenta"
	case Cyan:
		return "cyan"
	}
	return "no printer"
}

// The eras of palettes.
const (
	Modern   = "modern"
	Historic = "historic"
)

// Palette is three tissues chosen to work together.
type Palette struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Era     string `json:"era"` // Modern or Historic
	Yellow  Tissue `json:"yellow"`
	Magenta Tissue `json:"magenta"`
	Cyan    Tissue `json:"cyan"`

	Measured *Measurement `json:"measured,omitempty"` // nil: from approximate spectra
}

// Layer returns the tissue of one printer.
func (p Palette) Layer(printer Printer) Tissue {
	return [3]Tissue{p.Yellow, p.Magenta, p.Cyan}[printer]
}

// WithLayer returns the palette with one tissue changed.
func (p Palette) WithLayer(printer Printer, t Tissue) Palette {
	switch printer {
	case Yellow:
		p.Yellow = t
	case Magenta:
		p.Magenta = t
	case Cyan:
		p.Cyan = t
	}
	return p
}

// Palettes returns the built-in ones, modern first. Nobody has published what
// the tissues of the 1930s held; Note says what each of the historic ones follows.
//
// The loads are balanced as a workshop balances them: the neutral black takes about
// 80 % of every coat alike, for a layer that hardens through to its backing strips
// badly (from memory). Viridian and PY3 were measured as painted swatches of dry
// colour; ground as fine as a tissue needs it they are taken to scatter a third of
// that (from memory, as for PY74).
func Palettes() []Palette {
	const fine = 0.3
	tissue := func(load, haze float64, shares ...Share) Tissue {
		t := NewTissue(shares...)
		t.Load, t.Haze = load, haze
		return t
	}
	one := func(load float64, ci string) Tissue { return tissue(load, 1, Share{ci, 1}) }
	two := func(load, haze float64, a string, share float64, b string) Tissue {
		return tissue(load, haze, Share{a, share}, Share{b, 1 - share})
	}
	return []Palette{
		{"arylide", "Clear arylide", Modern, one(1.19, "PY74"), one(0.98, "PR122"), one(0.93, "PB15:3"), nil},
		{"lemon", "Lemon and rose", Modern, tissue(1.25, fine, Share{"PY3", 1}), one(0.98, "PV19"), one(0.97, "PB15:3"), nil},
		{"amber", "Amber diarylide", Modern, one(1.25, "PY83"), one(0.67, "PR122"), one(0.98, "PB15:3"), nil},
		{"chrome", "Chrome and alizarin", Historic, two(0.625, 1, "PY34", 0.85, "PY42"), one(1.01, "PR83"), two(1.075, fine, "PB27", 0.4, "PG18"), nil},
		{"gamboge", "Gamboge and carmine", Historic, one(0.625, "NY24"), one(0.97, "NR4"), two(1.095, fine, "PB27", 0.4, "PG18"), nil},
		{"earth", "Earth and viridian", Historic, two(0.625, 1, "NY24", 0.7, "PY42"), one(0.79, "PR83"), two(1.11, fine, "PB27", 0.6, "PG18"), nil},
		{"latechrome", "Chrome and phthalo green", Historic, two(0.625, 1, "PY34", 0.8, "PY42"), one(1.15, "PR83"), two(1.29, 1, "PB27", 0.3, "PG7"), nil},
		{"peacock", "Chrome and peacock blue", Historic, two(0.7, 1, "PY34", 0.85, "PY42"), one(0.98, "PR83"), one(1.12, "PB24"), nil},
		{"handbook", "Handbook of 1891", Historic, one(0.94, "PY34"), one(0.5, "NR4"), one(1.085, "PB27"), nil},
	}
}

// Note says what a built-in palette follows and what is known of it, in a sentence
// or two for its user, or how a palette was measured; "" for another of the user's own.
func (p Palette) Note() string {
	if p.Measured != nil {
		return p.Measured.Words()
	}
	const plausible = " The mixture is plausible, not documented."
	switch p.ID {
	case "arylide":
		return "Today's usual pigments of workshops that coat their own tissue."
	case "lemon":
		return "A greener yellow and a redder magenta than the usual set."
	case "amber":
		return "A warm, transparent yellow that closes the gap between blue and green, for a deeper black."
	case "chrome":
		return "A middle chrome yellow dulled with ochre, alizarin, Prussian blue greened with viridian: the blue-green of the time." + plausible
	case "gamboge":
		return "Gum yellow and cochineal, both fugitive, with Prussian blue greened with viridian." + plausible
	case "earth":
		return "Gamboge and ochre, alizarin, Prussian blue with less viridian: duller and bluer than the others." + plausible
	case "latechrome":
		return "Phthalocyanine green was to be had from the late 1930s on; it greens Prussian blue more cleanly than viridian." + plausible
	case "peacock":
		return "Peacock blue, a lake, was the printers' usual greenish blue of the time (from memory, its spectrum too)." + plausible
	case "handbook":
		return "Chrome yellow, carmine and Prussian blue alone, as handbooks from 1891 on name them. Its cyan is bluer than modern cyans: workshops added a green."
	}
	return ""
}

// PaletteByID returns the built-in palette of that id.
func PaletteByID(id string) (Palette, bool) {
	all := Palettes()
	i := slices.IndexFunc(all, func(p Palette) bool { return p.ID == id })
	if i < 0 {
		return Palette{}, false
	}
	return all[i], true
}
