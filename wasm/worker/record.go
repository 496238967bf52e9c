//go:build js

package main

import (
	"fmt"
	"io"
	"syscall/js"

	"threeply/proof/label"
	"threeply/proof/parcel"
	"threeply/proof/review"
	"threeply/proof/session"
)

// reviewSheet: session → the parts of its review as an HTML page.
func reviewSheet(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	sheet, err := review.Of(&s, planes, label.Now(), review.Options{}, func(share float64) { progress(share, "making the review sheet") })
	if err != nil {
		return nil, nil, err
	}
	var out parts
	if err := sheet.Write(&out); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}

// pack: session and files, its scans → the parts of one file with all of them. A part is
// bytes, or the number of a scan that stands there whole.
func pack(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	text, err := session.WriteFile(s, label.Now().Written())
	if err != nil {
		return nil, nil, err
	}
	list := m.Get("files")
	scans := make([]parcel.Scan, list.Length())
	for i := range scans {
		file, read := blobOf(list.Index(i)), false
		scans[i] = parcel.Scan{Name: list.Index(i).Get("name").String(), Size: file.Size(), Content: func(w io.Writer) error {
			if read { // the second time its length alone counts
				return zeros(w, file.Size())
			}
			read = true
			progress((float64(i)+0.5)/float64(len(scans)), "reading the scans")
			_, err := io.Copy(w, io.NewSectionReader(file, 0, file.Size()))
			return err
		}}
	}
	out := &referring{skip: -1}
	if err := parcel.Write(out, text, scans); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}

func zeros(w io.Writer, n int64) error {
	block := make([]byte, 1<<20)
	for n > 0 {
		k, err := w.Write(block[:min(n, int64(len(block)))])
		if err != nil {
			return err
		}
		n -= int64(k)
	}
	return nil
}

// referring collects a file, of whose scans it has the numbers alone.
type referring struct {
	parts
	skip int
}

func (r *referring) Skip(scan int) {
	if r.skip = scan; scan >= 0 {
		r.list = append(r.list, scan)
	}
}

func (r *referring) Write(b []byte) (int, error) {
	if r.skip >= 0 {
		return len(b), nil
	}
	return r.parts.Write(b)
}

// unpack: file, one that pack made → its session as text, its scans as {name, at, size},
// those that are compressed as {name, bytes}, and notes on what is damaged.
func unpack(m js.Value, progress func(float64, string)) (any, []any, error) {
	file := m.Get("file")
	name := file.Get("name").String()
	data := blobOf(file)
	progress(0.1, "reading the session")
	p, err := parcel.Read(name, data, data.Size())
	if err != nil {
		return nil, nil, err
	}
	var scans, buffers, notes []any
	for i, inside := range p.Scans {
		progress(0.5+0.5*float64(i)/float64(len(p.Scans)), "reading the scans")
		scan := map[string]any{"name": inside.Name, "at": float64(inside.At), "size": float64(inside.Size)}
		if inside.At < 0 {
			r, err := inside.Open()
			if err != nil {
				return nil, nil, err
			}
			var out parts
			if _, err := io.CopyBuffer(&out, r, make([]byte, windowBytes)); err != nil {
				return nil, nil, fmt.Errorf("%s in %s: %w", inside.Name, name, err)
			}
			scan["parts"] = out.list
			buffers = append(buffers, out.buffers...)
		}
		scans = append(scans, scan)
	}
	for _, note := range p.Notes {
		notes = append(notes, note)
	}
	return map[string]any{"session": string(p.Text), "scans": scans, "notes": notes}, buffers, nil
}
