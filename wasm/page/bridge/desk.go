//go:build js

package bridge

import (
	"encoding/binary"
	"runtime/debug"
	"syscall/js"

	"threeply/proof/desk"
	"threeply/proof/plane"
)

// offerDesk offers what the page's scripts tell the desk, and what it orders.
func (b *bridge) offerDesk() {
	b.set("desk", func(args []js.Value) any {
		defer tell("changed")
		opened := b.Opened
		err := b.Hear([]byte(args[0].String()))
		another := b.Opened != opened
		if another {
			b.limitMemory()
		}
		if another || !b.Working() { // while a job goes on, the pictures do not change
			b.stale = true
		}
		return answer(err)
	})
	b.set("ahead", func([]js.Value) any { return b.Ahead() })
	b.set("catchUp", func([]js.Value) any { return b.CatchUp() })
	b.set("progress", func(args []js.Value) any {
		b.Desk.Progress(desk.Token(args[0].Int()), args[1].Float(), args[2].String())
		return text(b.Desk.Jobs())
	})
	b.set("orders", func([]js.Value) any {
		out, err := b.Desk.OrdersText()
		if err != nil {
			return "[]"
		}
		return out
	})
	b.set("arrive", func(args []js.Value) any { return b.arrive(args) })
	b.set("record", func(args []js.Value) any {
		b.Desk.Record(args[0].String(), desk.Record{Key: desk.Key{Store: args[1].String(), Name: args[2].String()}, Text: args[3].String()})
		return nil
	})
	b.change("begin", func(args []js.Value) any {
		return int(b.Desk.Begin(desk.Kind(args[0].String()), args[1].String()))
	})
	b.change("end", func(args []js.Value) any { return b.Desk.End(desk.Token(args[0].Int())) })
	b.change("say", func(args []js.Value) any {
		if args[0].String() == "error" {
			b.Desk.Complain(args[1].String())
		} else {
			b.Desk.Tell(args[1].String())
		}
		return nil
	})
	b.set("keep", func([]js.Value) any { return b.Keep() })
	b.set("picture", func(args []js.Value) any { return b.TakeThumb(args[0].Bool()) })
	b.set("plane", func(args []js.Value) any {
		return b.plane(desk.Token(args[0].Int()), args[1].Int(), args[2].Int(), args[3].Int(), args[4].Int(), args[5])
	})
	b.set("tiles", func(args []js.Value) any {
		return b.tiles(desk.Token(args[0].Int()), args[1].Int(), args[2].Int(), args[3], args[4])
	})
	b.set("every", func(args []js.Value) any {
		return b.every(desk.Token(args[0].Int()), args[1].Int(), args[2].Int(), args[3].Int(), args[4])
	})
}

// arrive takes a part of a plate: the job that it belongs to, its source, level of the
// pyramid, that level's width and height, the byte at which the part begins, and the
// part. Parts come in order.
func (b *bridge) arrive(args []js.Value) any {
	at := args[5].Int()
	pix := b.Desk.Arrive(desk.Token(args[0].Int()), args[1].Int(), args[2].Int(), args[3].Int(), args[4].Int(), at, args[6].Length())
	if pix == nil {
		return nil
	}
	if at == 0 {
		b.limitMemory()
	}
	js.CopyBytesToGo(bytesOf(pix)[at:], args[6])
	return nil
}

// limitMemory has the collector work harder where more than a margin beside the plates
// is taken: large plates would else let as much again pile up.
func (b *bridge) limitMemory() {
	const margin = 256 << 20
	debug.SetMemoryLimit(int64(b.Desk.Bytes() + margin))
}

// plane copies bytes from … to of a level of a source's plane out, to be handed to a
// worker, into as many bytes; null once the plates that the job was begun on are put away.
func (b *bridge) plane(token desk.Token, source, level, from, to int, into js.Value) any {
	p := b.level(token, source, level)
	if p == nil {
		return nil
	}
	all := bytesOf(p.Pix)
	part := all[min(from, len(all)):min(to, len(all))]
	js.CopyBytesToJS(into, part)
	return into.Call("subarray", 0, len(part))
}

// level is a level of the plate of a source that a job was begun on, nil where it was put away or
// there is none.
func (b *bridge) level(token desk.Token, source, level int) *plane.Plane {
	plates := b.Desk.Plates(token)
	if plates == nil || level >= len(plates[source]) {
		return nil
	}
	return plates[source][level]
}

// tiles gives tiles of a level of a plate, as package plane has them, numbered in 32 bits each: one
// after the other in into. What of them lies beyond the edge is left as it is.
func (b *bridge) tiles(token desk.Token, source, level int, numbers, into js.Value) any {
	p := b.level(token, source, level)
	if p == nil {
		return nil
	}
	list := make([]byte, numbers.Length())
	js.CopyBytesToGo(list, numbers)
	const side = plane.TileSide
	across, down := (p.W+side-1)/side, (p.H+side-1)/side
	tile := make([]uint16, side*side)
	at := 0
	for ; len(list) >= 4; list = list[4:] {
		n := int(binary.LittleEndian.Uint32(list))
		if n >= across*down {
			return nil
		}
		x, y := n%across*side, n/across*side
		for row := range min(side, p.H-y) {
			copy(tile[row*side:(row+1)*side], p.Row(y + row)[x:])
		}
		at += js.CopyBytesToJS(into.Call("subarray", at), bytesOf(tile))
	}
	return into.Call("subarray", 0, at)
}

// every gives each step-th code of a level of a plate, row by row, from the first one on.
func (b *bridge) every(token desk.Token, source, level, step int, into js.Value) any {
	p := b.level(token, source, level)
	if p == nil || step < 1 {
		return nil
	}
	return into.Call("subarray", 0, js.CopyBytesToJS(into, bytesOf(p.Every(step))))
}
