//go:build js

package bridge

import (
	"runtime/debug"
	"syscall/js"

	"threeply/wasm/page/model"
)

// offerOpening offers how plates and sessions come in, and what is said of work under
// way.
func (b *bridge) offerOpening() {
	b.set("arrive", func(args []js.Value) any { return b.arrive(args) })
	b.set("forget", func([]js.Value) any {
		b.ForgetArrived()
		b.limitMemory()
		return nil
	})
	b.change("open", func(args []js.Value) any {
		defer b.limitMemory()
		return answer(b.Open(args[0].String(), []byte(args[1].String()), args[2].Bool(), args[3].Bool()))
	})
	b.change("restore", func(args []js.Value) any {
		return answer(b.Restore(args[0].String(), []byte(args[1].String()), len(args) > 2 && args[2].Truthy()))
	})
	b.change("registered", func(args []js.Value) any {
		return answer(b.Registered([]byte(args[0].String()), len(args) > 1 && args[1].Truthy()))
	})
	b.change("busy", func(args []js.Value) any {
		if len(args) > 0 && args[0].Truthy() {
			b.Busy(&model.Busy{What: args[0].String(), Share: args[1].Float(), Cancel: args[2].Bool()})
		} else {
			b.Busy(nil)
		}
		return nil
	})
	b.change("say", func(args []js.Value) any { b.Say(args[0].String(), args[1].String()); return nil })
	b.set("plane", func(args []js.Value) any { return b.plane(args[0].Int(), args[1].Int(), args[2].Int()) })
}

// arrive takes a part of a plate: its source, level of the pyramid, that level's width
// and height, the byte at which the part begins, and the part. Parts come in order.
func (b *bridge) arrive(args []js.Value) any {
	at := args[4].Int()
	pix := b.Arrive(args[0].Int(), args[1].Int(), args[2].Int(), args[3].Int(), at, args[5].Length())
	if pix == nil {
		return nil
	}
	if at == 0 {
		b.limitMemory()
	}
	js.CopyBytesToGo(bytesOf(pix)[at:], args[5])
	return nil
}

// limitMemory has the collector work harder where more than a margin beside the plates
// is taken: large plates would else let as much again pile up.
func (b *bridge) limitMemory() {
	const margin = 256 << 20
	debug.SetMemoryLimit(int64(b.Bytes() + margin))
}

// plane copies bytes from … to of a source's plane out, to be handed to a worker.
func (b *bridge) plane(source, from, to int) any {
	if !b.Plates.Open() {
		return nil
	}
	all := bytesOf(b.Plates[source][0].Pix)
	return toJS(all[min(from, len(all)):min(to, len(all))])
}
