//go:build js

package bridge

import (
	"syscall/js"

	"threeply/proof/pigment"
)

// offerFigures offers what is worked out for the controls, and what the workers are to
// work on.
func (b *bridge) offerFigures() {
	b.set("fill", func([]js.Value) any {
		more := b.Fill()
		if more {
			b.changed()
		}
		return more
	})
	b.change("tried", func(args []js.Value) any {
		return answer(b.Tried(args[0].String(), args[1].String(), args[2].String()))
	})
	b.set("section", func(args []js.Value) any { return b.section(args[0].Int()) })
	b.set("thumb", func(args []js.Value) any {
		w, h, rgba, ok := b.Thumb(args[0].Int())
		if !ok {
			return nil
		}
		clamped := js.Global().Get("Uint8ClampedArray").New(len(rgba))
		js.CopyBytesToJS(clamped, rgba)
		return js.ValueOf(map[string]any{"w": w, "h": h, "rgba": clamped})
	})
	b.set("small", func([]js.Value) any { return b.small() })
	b.set("seek", func([]js.Value) any { return b.seek() })
	b.change("found", func(args []js.Value) any {
		return answer(b.SearchEnded(args[0].Int(), args[1].Int(), []byte(args[2].String())))
	})
}

// section gives {n, um: {printer: heights}, order, maxUm, swatch, lengthMm}.
func (b *bridge) section(n int) any {
	s := b.Cut(n)
	um, swatches := map[string]any{}, map[string]any{"paper": s.Paper}
	for p := range pigment.Printer(3) {
		um[p.String()], swatches[p.String()] = floatsToJS(s.Um[p]), s.Swatches[p]
	}
	return js.ValueOf(map[string]any{"n": len(s.Um[0]), "um": um, "order": b.Order, "maxUm": s.MostUm, "swatch": swatches, "lengthMm": s.LengthMm})
}

// small gives {level, frame, planes: [{w, h, bytes}]}, planes by source.
func (b *bridge) small() any {
	small, ok := b.Small()
	if !ok {
		return nil
	}
	planes := make([]any, 3)
	for i, p := range small.Planes {
		planes[i] = planeToJS(p)
	}
	return js.ValueOf(map[string]any{"level": small.Level, "frame": listToJS(small.Frame[:]), "planes": planes})
}

// seek gives {turn, n, tries} for the worker's locate, or null where nothing is to be
// looked for.
func (b *bridge) seek() any {
	defer b.changed()
	search := b.Seek()
	if search == nil {
		return nil
	}
	tries := make([]any, len(search.Tries))
	for i, t := range search.Tries {
		r := t.Around
		tries[i] = map[string]any{
			"source": t.Source, "key": planeToJS(r.Key), "other": planeToJS(r.Other), "map": listToJS(r.Map[:]),
			"polarity": []any{r.Polarity[0], r.Polarity[1]}, "x": r.X, "y": r.Y, "ox": r.OX, "oy": r.OY,
		}
	}
	return js.ValueOf(map[string]any{"turn": search.Turn, "n": search.N, "tries": tries})
}
