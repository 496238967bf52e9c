//go:build js

package bridge

import (
	"syscall/js"

	"threeply/proof/pigment"
	"threeply/proof/spectrum"
	"threeply/wasm/page/app"
)

// offerOwn offers the functions for palettes and papers of the user's own, and for what a print rests on.
func (b *bridge) offerOwn() {
	b.set("pigments", func([]js.Value) any { return text(app.PigmentTable()) })
	b.set("origin", func([]js.Value) any { return text(b.Origin()) })
	b.set("paletteSchema", func([]js.Value) any { return string(pigment.Schema) })
	b.set("paletteText", func(args []js.Value) any { return b.PaletteText(args[0].String()) })
	b.set("paperText", func(args []js.Value) any { return b.PaperText(args[0].String()) })
	b.set("readPalette", func(args []js.Value) any {
		p, err := b.ReadPalette(args[0].String(), args[1].String())
		return b.read("palette", p, err)
	})
	b.set("readPaper", func(args []js.Value) any {
		p, err := b.ReadPaper(args[0].String(), args[1].String(), args[2].String())
		return b.read("paper", p, err)
	})
	b.set("paperOfLab", func(args []js.Value) any {
		p, err := b.PaperOfLab(args[0].String(), spectrum.Lab{args[1].Float(), args[2].Float(), args[3].Float()})
		return b.read("paper", p, err)
	})
}

// read gives what was read under its name, or what is wrong.
func (b *bridge) read(what string, v any, err error) any {
	if err != nil {
		b.changed()
		return answer(err)
	}
	return text(map[string]any{what: v})
}
