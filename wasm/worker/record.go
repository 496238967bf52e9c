//go:build js

package main

import (
	"fmt"
	"io"
	"syscall/js"

	"threeply/proof/archive"
	"threeply/proof/bag"
	"threeply/proof/catalogue"
	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/label"
	"threeply/proof/parcel"
	"threeply/proof/report"
	"threeply/proof/review"
	"threeply/proof/session"
	"threeply/proof/verdict"
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
	return written(sheet.Write)
}

// registerReport: session → the parts of the report on its register as an HTML page.
func registerReport(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	progress(0.5, "writing the report on register")
	r, err := report.Of(&s, planes, label.Now())
	if err != nil {
		return nil, nil, err
	}
	return written(r.Write)
}

// text: session, sight, and what of it leaves: "session", or the table "matrices", "verdict" or
// "curves" → the file's parts. They are bytes: a string would lose its byte-order mark on its way to the page.
func text(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	var file []byte
	switch what := m.Get("what").String(); what {
	case "session":
		how := label.Now().Written()
		how.Sight = m.Get("sight").String()
		file, err = session.WriteFile(s, how)
	case "matrices":
		file = []byte(verdict.MatricesCSV(&s, label.Now()))
	case "verdict":
		file = []byte(verdict.CSV(&s, label.Now()))
	case "curves":
		file, err = curves(m, &s)
	default:
		err = fmt.Errorf("no text “%s” to save", what)
	}
	if err != nil {
		return nil, nil, err
	}
	return written(func(w io.Writer) error { _, err := w.Write(file); return err })
}

// curves are the layers' curves as a table, with the masks of a masked print.
func curves(m js.Value, s *session.State) ([]byte, error) {
	p, err := printingOf(m, s)
	if err != nil {
		return nil, err
	}
	return []byte(export.CurvesCSV(s, p, label.Now())), nil
}

// pack: session, sight and files, its scans → the parts of one file with all of them. A part is
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
	if err := parcel.Write(out, text, m.Get("sight").String(), scans); err != nil {
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

// catalogueOf: file, a table of sets, and session → the commands that say of the session what
// the table knows of its set, as text.
func catalogueOf(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	file := m.Get("file")
	data := blobOf(file)
	text, err := io.ReadAll(io.NewSectionReader(data, 0, min(data.Size(), mostTable+1)))
	if err != nil {
		return nil, nil, err
	}
	name := file.Get("name").String()
	if len(text) > mostTable {
		return nil, nil, fmt.Errorf("%s: it is larger than %d MB; part it", name, mostTable>>20)
	}
	table, err := catalogue.Read(name, text)
	if err != nil {
		return nil, nil, err
	}
	all, err := table.Of(&s)
	if err != nil {
		return nil, nil, err
	}
	out := []any{}
	for _, c := range all {
		text, err := command.Write(c, "")
		if err != nil {
			return nil, nil, err
		}
		out = append(out, string(text))
	}
	return out, nil, nil
}

// mostTable bounds a table, in bytes.
const mostTable = 64 << 20

// bag: session and files, its scans, and root, the folder's name → the parts of an archive
// package, each bytes or the number of a scan, and notes on what is left out.
func bagOf(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, planes, err := set(m)
	if err != nil {
		return nil, nil, err
	}
	list := m.Get("files")
	scans := make([]archive.Scan, list.Length())
	for i := range scans {
		file := blobOf(list.Index(i))
		scans[i] = archive.Scan{Name: list.Index(i).Get("name").String(), Content: func(w io.Writer) error {
			_, err := io.Copy(w, io.NewSectionReader(file, 0, file.Size()))
			return err
		}}
	}
	files, notes, err := archive.Of(&s, planes, scans, label.Now(), progress)
	if err != nil {
		return nil, nil, err
	}
	out := &bagged{referring{skip: -1}}
	if err := bag.Zip(out, m.Get("root").String(), files); err != nil {
		return nil, nil, err
	}
	said := []any{}
	for _, note := range notes {
		said = append(said, note)
	}
	return map[string]any{"parts": out.list, "notes": said}, out.buffers, nil
}

// together: files, each as {name, file}, and root, the folder's name → the parts of one ZIP
// archive with all of them, each bytes or the number of a file that stands there whole.
func together(m js.Value, progress func(float64, string)) (any, []any, error) {
	list := m.Get("files")
	files := make([]bag.File, list.Length())
	for i := range files {
		one := list.Index(i)
		file := blobOf(one.Get("file"))
		files[i] = bag.File{Path: one.Get("name").String(), Scan: i + 1, Content: func(w io.Writer) error {
			progress(float64(i)/float64(len(files)), "packing the files")
			_, err := io.CopyBuffer(w, io.NewSectionReader(file, 0, file.Size()), make([]byte, windowBytes))
			return err
		}}
	}
	out := &bagged{referring{skip: -1}}
	if err := bag.Zip(out, m.Get("root").String(), files); err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}

// bagged counts scans as package bag does, from 1.
type bagged struct{ referring }

func (b *bagged) Skip(scan int) { b.referring.Skip(scan - 1) }

// unpack: file, one that pack made → its session and its sight as texts, its scans as {name, at, size},
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
	scans, notes := []any{}, []any{}
	var buffers []any
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
	return map[string]any{"session": string(p.Text), "sight": p.Sight, "scans": scans, "notes": notes}, buffers, nil
}
