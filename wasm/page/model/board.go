package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"threeply/proof/picture"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/words"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Board is the picture printed small with every palette.
type Board struct {
	By      string       `json:"by"`
	Falling bool         `json:"falling"`
	Orders  []view.Order `json:"orders"`
	Aspect  float64      `json:"aspect"` // width over height of the small prints
	Says    string       `json:"says"`   // how many there are, and what they show
	Cards   []Card       `json:"cards"`  // as they are sorted; what is not printed yet stands last
}

// Card is one palette of the board.
type Card struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Era    string `json:"era"`
	Own    bool   `json:"own"`
	Chosen bool   `json:"chosen"`
	Group  string `json:"group"` // title that stands before it, "" for none
	Key    string `json:"key"`   // what the small print and its figures stand on

	Printed bool         `json:"printed"`
	Note    string       `json:"note"`  // why it could not be printed, or not as it was to be; else ""
	Three   string       `json:"three"` // its black, colour and permanence, a word each
	Near    string       `json:"near"`  // that its mean cannot be told from the chosen one's, "" where it can
	Figures []CardFigure `json:"figures"`
	Lasts   string       `json:"lasts"` // how long, of which pigment that is said, and by what
}

// CardFigure is one of a card's figures.
type CardFigure struct {
	Name  string `json:"name"`
	Words string `json:"words"`
	Sorts bool   `json:"sorts"` // the board is sorted by it
}

// tried is a palette with what became of its print.
type tried struct {
	pigment.Palette
	key     string
	printed bool
	prints.Try
}

func (on *figuresOn) makeBoard(keys func(pigment.Palette) (recipe, pic string)) *Board {
	s, by := &on.session, on.board.By
	out := &Board{By: by, Falling: on.board.Falling, Orders: view.Orders, Aspect: (on.shown[2] - on.shown[0]) / max(on.shown[3]-on.shown[1], 1), Cards: []Card{}}
	var all []tried
	var chosen *picture.Tried
	done := 0
	for _, p := range s.Palettes() {
		_, key := keys(p)
		one := tried{Palette: p, key: fmt.Sprint(key, s.Masked)}
		if try, ok := on.tries.Of(one.key); ok {
			one.Try, one.printed = try, try.Why == ""
		}
		if one.printed {
			done++
			if p.ID == s.Palette {
				chosen = &one.Figures
			}
		}
		all = append(all, one)
	}
	arrange(all, by, on.board.Falling)
	era := ""
	for _, one := range all {
		c := one.card(by)
		c.Own, c.Chosen = s.Own(one.ID), one.ID == s.Palette
		if (by == "kind" || by == "era") && one.Era != era {
			era = one.Era
			c.Group = strings.ToUpper(era[:1]) + era[1:]
		}
		if one.printed && !c.Chosen && chosen != nil && alike(&one.Figures, chosen) {
			c.Near = "as near the reference as the chosen"
		}
		out.Cards = append(out.Cards, c)
	}
	out.Says = on.boardWords(done, len(all))
	return out
}

// arrange sorts palettes by one of view.Orders. Those that are not printed stand last where
// figures of their prints are sorted by, and equal ones as they are listed.
func arrange(all []tried, by string, falling bool) {
	turn := 1
	if falling {
		turn = -1
	}
	var compare func(a, b *tried) int
	switch by {
	case "kind":
		return
	case "name":
		compare = func(a, b *tried) int { return turn * strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) }
	case "era":
		compare = func(a, b *tried) int { return turn * strings.Compare(a.Era, b.Era) }
	default:
		compare = func(a, b *tried) int {
			switch {
			case a.printed && b.printed:
				return turn * cmp.Compare(sortValue(&a.Figures, by), sortValue(&b.Figures, by))
			case a.printed:
				return -1
			case b.printed:
				return 1
			}
			return 0
		}
	}
	slices.SortStableFunc(all, func(a, b tried) int { return compare(&a, &b) })
}

// sortValue is the figure that an order sorts by.
func sortValue(f *picture.Tried, by string) float64 {
	switch by {
	case "L":
		return f.Lab[0]
	case "density":
		return f.Density
	case "tint":
		return math.Hypot(f.Full[1], f.Full[2])
	case "driftA":
		return f.DriftA
	case "driftLED":
		return f.DriftLED
	case "volume":
		return f.Volume
	case "beyond":
		return f.Beyond
	case "p95":
		return f.P95
	}
	return f.Mean
}

// alike tells whether the means of two prints cannot be told apart: one lies within how far
// the other may vary.
func alike(a, b *picture.Tried) bool {
	return session.Within(a.Mean, b.Least, b.Most) || session.Within(b.Mean, a.Least, a.Most)
}

// card is the palette's card on a board that is sorted by something.
func (t *tried) card(by string) Card {
	lasts := t.Permanence()
	c := Card{ID: t.ID, Name: t.Name, Era: t.Era, Key: t.key, Printed: t.printed, Three: "…", Figures: []CardFigure{}, Lasts: fmt.Sprintf("Permanence: %s.", weakest(lasts))}
	if t.Why != "" {
		c.Note = "It could not be printed: " + t.Why
	}
	if !t.printed {
		return c
	}
	f := &t.Figures
	if f.Note != "" {
		c.Note = "Printed unmasked: " + f.Note
	}
	black, blackest := "no greys", "there is none"
	if !f.Even {
		word := words.Black(f.Lab[0])
		black = "black " + word
		blackest = fmt.Sprintf("%s, L* %s, density %s", word, words.Figure(f.Lab[0], 1), words.Figure(f.Density, 2))
	}
	c.Three = fmt.Sprintf("%s · colour %s · %s", black, words.Whole(f.Beyond), lasts.Word())
	add := func(name, said string, orders ...string) {
		c.Figures = append(c.Figures, CardFigure{name, said, slices.Contains(orders, by)})
	}
	add("blackest grey", blackest, "L", "density")
	add("full coats", fmt.Sprintf("L*\u00a0%s, a*\u00a0%s, b*\u00a0%s", words.Figure(f.Full[0], 1), words.Signed(f.Full[1], 1), words.Signed(f.Full[2], 1)), "tint")
	add("lamp A", fmt.Sprintf("ΔE00 %s, %s", words.Figure(f.DriftA, 1), words.Leaning(f.InA)), "driftA")
	add("neutral LED", fmt.Sprintf("ΔE00 %s, %s", words.Figure(f.DriftLED, 1), words.Leaning(f.InLED)), "driftLED")
	add("reach", words.Figure(f.Volume/1000, 0)+" thousand units³", "volume")
	add("cannot be printed", words.Figure(100*f.Beyond, 1)+" %", "beyond")
	add("ΔE00", fmt.Sprintf("mean %s, it may be %s to %s; 95 %%: %s", words.Figure(f.Mean, 1), words.Figure(f.Least, 1), words.Figure(f.Most, 1), words.Figure(f.P95, 1)), "mean", "p95")
	add("of it", fmt.Sprintf("lightness %s, colour %s", words.Figure(f.Light, 1), words.Figure(f.Colour, 1)))
	return c
}

// boardWords says how many prints are still to come, and what they show.
func (on *figuresOn) boardWords(done, of int) string {
	said := ""
	switch masked := on.session.Masked; {
	case done < of && masked:
		said = fmt.Sprintf("%d of %d printed, masked; ", done, of)
	case done < of:
		said = fmt.Sprintf("%d of %d printed; ", done, of)
	case masked:
		said = "masked; "
	}
	said += "all estimates"
	var lifted []string
	for p, hidden := range on.hidden {
		if hidden {
			lifted = append(lifted, pigment.Printer(p).String())
		}
	}
	if len(lifted) > 0 {
		said += fmt.Sprintf("; with %s, lifted off elsewhere", strings.Join(lifted, " and "))
	}
	return said
}

// weakest says of which pigment a palette's permanence is, by what, what the class that its
// facts do not name is taken as, and how long it lasts at a stated light.
func weakest(p pigment.Permanence) string {
	out := fmt.Sprintf("weakest is %s: %s", p.Pigment, p.Says)
	switch p.Stands {
	case pigment.StandsBlueWool:
		out += fmt.Sprintf("; taken as blue wool %g–%g", p.Least, p.Most)
	case pigment.StandsASTM:
		out += fmt.Sprintf("; taken as ASTM %s", pigment.Category(p.Class))
	}
	const hours = 8
	if least, most, ok := p.Years(session.GalleryLux, hours); ok {
		out += fmt.Sprintf("; at %d lx, %d h a day, it fades noticeably after %s to %s years", session.GalleryLux, hours, words.Two(least), words.Two(most))
	}
	return out
}
