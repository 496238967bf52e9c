//go:build js

package bridge

import (
	"syscall/js"
	"time"

	"threeply/proof/export"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/wasm/page/app"
	"threeply/wasm/page/screen"
	"threeply/wasm/page/view"
)

// bridge joins the program to the page.
type bridge struct {
	*app.App
	screen *screen.Screen // nil until the program is prepared
	object js.Value       // window.threeply
	stale  bool           // what is on the screen may no longer be what should be
	looks  bool           // what is offered from now on looks at the prints
}

// Offer puts what the desk can be told at window.threeply, and tells the page. What it gives back
// is called with the screen once the program is prepared: it gives the screen what it draws, offers
// the program's other functions, and tells the page again. Each function takes and gives plain
// values; none blocks.
func Offer(a *app.App) (start func(*screen.Screen)) {
	b := &bridge{App: a, object: js.Global().Get("Object").New()}
	b.offerDesk()
	js.Global().Set("threeply", b.object)
	tell("awake")
	return b.start
}

func (b *bridge) start(s *screen.Screen) {
	a := b.App
	b.screen = s
	s.Glance = func() screen.Scene {
		return screen.Scene{Session: &a.State, Plates: a.Plates, Prints: a.Prints, View: a.View, Opened: a.Opened}
	}
	s.Scene = func() screen.Scene {
		a.CatchUp()
		return s.Glance()
	}
	s.Wanted = func() { tell("wanted") }
	said := !s.Plain()
	s.Drawn = func() {
		if !said { // once a set is open, for that takes earlier messages away
			said = true
			b.Desk.Tell("There is no WebGL 2 here: the pictures are drawn without the graphics card, the same, but slower.")
			tell("changed")
		}
		tell("drawn")
	}
	b.set("frameTook", func(args []js.Value) any {
		b.screen.Took(time.Duration(args[0].Float() * float64(time.Millisecond)))
		return nil
	})
	b.set("drawPlain", func(args []js.Value) any {
		b.screen.DrawPlain(args[0])
		b.Desk.Tell("The graphics card was lost: the pictures are drawn without it, the same, but slower.")
		tell("changed")
		return nil
	})
	b.looks = true
	b.offerLooking()
	b.offerFigures()
	b.offerFiles()
	b.offerOwn()
	tell("started")
}

// Failed tells the page that the program cannot go on.
func Failed(err error) { tell("failed", err.Error()) }

// PlainCanvas is the canvas to draw on without a graphics card, where the browser has no
// WebGL 2; else null.
func PlainCanvas() js.Value { return js.Global().Get("threeplyPage").Call("plainCanvas") }

func tell(what string, args ...any) { js.Global().Get("threeplyPage").Call(what, args...) }

// set offers a function that changes nothing.
func (b *bridge) set(name string, f func(args []js.Value) any) {
	looks := b.looks
	b.object.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any {
		if looks {
			b.CatchUp()
		}
		return f(args)
	}))
}

// change offers a function after which the page reads the model again, and then has the
// pictures drawn.
func (b *bridge) change(name string, f func(args []js.Value) any) {
	b.set(name, func(args []js.Value) any {
		defer b.changed()
		return f(args)
	})
}

func (b *bridge) changed() {
	b.stale = true
	tell("changed")
}

// draw has the pictures drawn with the next frame, where something changed.
func (b *bridge) draw() {
	if b.stale {
		b.screen.Schedule()
	}
	b.stale = false
}

// panes names the panes on the stage.
func (b *bridge) panes() string {
	out := string(b.View.Look)
	for _, p := range b.View.Panes() {
		out += " " + p.ID
	}
	return out
}

// offerLooking offers commands, the model, and where things lie on the stage.
func (b *bridge) offerLooking() {
	b.change("do", func(args []js.Value) any {
		before := b.panes()
		err := b.Do([]byte(args[0].String()))
		if b.panes() == before { // other panes wait for the page, which gives them their room
			b.screen.Schedule()
		}
		return answer(err)
	})
	b.set("view", func([]js.Value) any {
		text, err := b.Model()
		if err != nil {
			return answer(err)
		}
		return string(text)
	})
	b.set("panBy", func(args []js.Value) any { // the page reads the model when the hand rests
		moved := b.PanBy(args[0].Float(), args[1].Float())
		if moved {
			b.screen.Schedule()
		}
		return moved
	})
	b.set("nudgeBy", func(args []js.Value) any {
		moved := b.NudgeBy(pigment.Printer(args[0].Int()), args[1].Float(), args[2].Float(), args[3].String())
		if moved {
			b.screen.Schedule()
		}
		return moved
	})
	b.change("rest", func([]js.Value) any { b.Rest(); return nil })
	b.set("bring", func([]js.Value) any { return b.screen.Bring() })
	b.set("draw", func([]js.Value) any { b.draw(); return nil })
	b.set("again", func([]js.Value) any { b.screen.Again(); return nil })
	b.set("stage", func(args []js.Value) any { // the page reads the model anew by itself
		b.stale = true
		b.Resize(view.Stage{
			W: args[0].Float(), H: args[1].Float(), Ratio: args[2].Float(),
			Right: args[3].Float(), Bottom: args[4].Float(), Caption: args[5].Float(),
		})
		return nil
	})
	b.set("keyAt", func(args []js.Value) any {
		x, y := b.KeyShare(args[0].Float(), args[1].Float())
		return js.ValueOf([]any{x, y})
	})
	b.set("peek", func(args []js.Value) any { return b.Peek(args[0].Float(), args[1].Float()) })
	b.set("compare", func([]js.Value) any { return b.compare() })
}

// offerFiles offers what is saved as a file.
func (b *bridge) offerFiles() {
	b.set("sessionText", func([]js.Value) any {
		out, _ := session.Write(b.State)
		return string(out)
	})
	b.set("sight", func([]js.Value) any { return string(b.View.Keep()) })
	b.set("printText", func(args []js.Value) any { // no picture and no figure stands on notes
		bare := b.State
		if len(args) > 0 {
			bare = b.StateAt(args[0].String())
		}
		bare.Notes = nil
		out, _ := session.Write(bare)
		return string(out)
	})
	b.set("scanKeys", func([]js.Value) any {
		keys := []any{}
		if doc := b.Desk.Open(); doc != nil {
			for _, f := range doc.Scans {
				keys = append(keys, f.Key)
			}
		}
		return js.ValueOf(keys)
	})
	b.set("fileName", func(args []js.Value) any { return export.FileName(&b.State, args[0].String()) })
}

// compare gives a promise of how far the shader's pictures lie from Go's.
func (b *bridge) compare() any {
	return js.Global().Get("Promise").New(js.FuncOf(func(_ js.Value, args []js.Value) any {
		resolve, reject := args[0], args[1]
		wanted, ok := b.screen.Compare()
		if !ok {
			reject.Invoke("no plates are open, no shader draws, or a comparison is under way")
			return nil
		}
		go func() { resolve.Invoke(text(<-wanted)) }()
		return nil
	}))
}
