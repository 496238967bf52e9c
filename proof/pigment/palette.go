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
// the tissues of the 1930s held; the historic ones follow the recipes of
// handbooks of 1891 and later, which name chrome yellow, carmine, madder and
// Prussian blue. The mixtures with ochre and viridian are plausible, no more.
func Palettes() []Palette {
	one := func(ci string) Tissue { return NewTissue(Share{ci, 1}) }
	two := func(a string, share float64, b string) Tissue {
		return NewTissue(Share{a, share}, Share{b, 1 - share})
	}
	return []Palette{
		{"arylide", "Clear arylide", Modern, one("PY74"), one("PR122"), one("PB15:3")},
		{"lemon", "Lemon and rose", Modern, one("PY3"), one("PV19"), one("PB15:3")},
		{"amber", "Amber diarylide", Modern, one("PY83"), one("PR122"), one("PB15:3")},
		{"chrome", "Chrome and alizarin", Historic, one("PY34"), one("PR83"), one("PB27")},
		{"gamboge", "Gamboge and carmine", Historic, one("NY24"), one("NR4"), one("PB27")},
		{"earth", "Earth and viridian", Historic, two("NY24", 0.7, "PY42"), one("PR83"), two("PB27", 0.6, "PG18")},
		{"latechrome", "Chrome and phthalo green", Historic, two("PY34", 0.8, "PY42"), one("PR83"), two("PB27", 0.7, "PG7")},
	}
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
