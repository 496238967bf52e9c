//go:build js

package main

import (
	"encoding/json"
	"errors"
	"runtime"
	"syscall/js"

	"threeply/proof/intake"
	"threeply/proof/plane"
	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/proof/session"
)

// open: files [File], options {layout, order, encodings by file, measured}, and together, where another
// worker may read one of three files meanwhile, which is asked for as {id, turn: {open}} →
// session, asked. The density planes are handed over as they are made. Of files that are plates
// without their set: alone, what they are as text.
func open(m js.Value, progress func(float64, string)) (any, []any, error) {
	files, opt := toOpen(m)
	if last := len(files) - 1; last == 2 && m.Get("together").Truthy() && fewPixels(files) {
		opt.Elsewhere = elsewhere[plate.Source](m, "open", last)
	}
	set, err := plate.Open(files, opt, progress)
	if alone, ok := errors.AsType[*plate.Alone](err); ok {
		text, err := json.Marshal(alone.Plates)
		return map[string]any{"alone": string(text)}, nil, err
	}
	if err != nil {
		return nil, nil, err
	}
	text, err := session.Write(intake.Begin(set))
	if err != nil {
		return nil, nil, err
	}
	return map[string]any{"session": string(text), "asked": set.Unnamed}, nil, nil
}

// openOne: as open, and source, the file that is read of three → what is known of that plate,
// as text.
func openOne(m js.Value, _ func(float64, string)) (any, []any, error) {
	files, opt := toOpen(m)
	source := m.Get("source").Int()
	one, err := plate.One(files[source], source, opt)
	if err != nil {
		return nil, nil, err
	}
	text, err := json.Marshal(one)
	return string(text), nil, err
}

// toOpen reads a message's files and options.
func toOpen(m js.Value) ([]plate.File, plate.Options) {
	list := m.Get("files")
	files := make([]plate.File, list.Length())
	for i := range files {
		f := list.Index(i)
		files[i] = plate.File{Name: f.Get("name").String(), Data: blobOf(f), Hash: hasher(f)}
	}
	opt := plate.Options{Inflate: inflater(), Take: func(source int, density *plane.Plane) {
		handOver(m.Get("id"), source, density)
		density.Pix = nil
		runtime.GC() // makes room for the next file
	}}
	if o := m.Get("options"); o.Truthy() {
		for name, to := range map[string]*string{"layout": (*string)(&opt.Layout), "order": &opt.Order} {
			if v := o.Get(name); v.Type() == js.TypeString {
				*to = v.String()
			}
		}
		opt.Measured = o.Get("measured").Truthy()
		if as := o.Get("encodings"); as.Truthy() {
			for i := range min(len(files), as.Length()) {
				files[i].Encoding = as.Index(i).String()
			}
		}
	}
	return files, opt
}

// fewPixels tells whether the files are known to hold no more than two workers may have in
// their memory, and not so few that a second one begins too late.
func fewPixels(files []plate.File) bool {
	pixels := 0
	for _, f := range files {
		for _, page := range scan.Pages(f.Data) {
			pixels += page.W * page.H
		}
	}
	return leastTogether <= pixels && pixels <= mostTogether
}
