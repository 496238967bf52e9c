package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/intake"
	"threeply/proof/parcel"
	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/proof/session"
	"threeply/tools/files"
)

// savedSession is a session that was saved, with the scans that lie in its file, if any.
type savedSession struct {
	name  string
	state session.State
	scans []plate.File
	notes []string // what of the file is damaged
}

// readSaved reads a session that was saved, with its scans or without.
func readSaved(in *files.Job, name string) (savedSession, error) {
	data, err := in.Read(name)
	if err != nil {
		return savedSession{}, err
	}
	k := savedSession{name: name}
	if !parcel.Is(data) {
		k.state, err = session.Read(name, data)
		return k, err
	}
	p, err := parcel.Read(name, bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return savedSession{}, err
	}
	k.state, k.notes = p.Session, p.Notes
	for _, inside := range p.Scans {
		r, err := inside.Open()
		if err != nil {
			return savedSession{}, fmt.Errorf("%s in %s: %w", inside.Name, name, err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			return savedSession{}, fmt.Errorf("%s in %s: %w", inside.Name, name, err)
		}
		k.scans = append(k.scans, plate.File{Name: inside.Name, Data: scan.Bytes(content)})
	}
	return k, nil
}

// open opens the plates of a saved session: those of the named files, else those that lie
// in its own. Notes say where the session could not be followed.
func (k savedSession) open(in *files.Job, opening openOptions, names []string) (set *plate.Set, s session.State, notes []string, err error) {
	scans, opt := k.scans, plate.Options{}
	if len(names) > 0 {
		if set, err = openPlates(in, opening, names); err != nil {
			return nil, s, nil, err
		}
	} else {
		if len(scans) == 0 {
			return nil, s, nil, usageError(fmt.Sprintf("no file is named, and no scans lie in %s", k.name))
		}
		if opt, err = layoutOptions(*opening.layout); err != nil {
			return nil, s, nil, err
		}
		if opt.Layout == "" {
			opt.Layout = plate.Layout(k.state.Layout)
		}
		encodings, err := opening.encodings()
		if err != nil {
			return nil, s, nil, err
		}
		for i := range scans {
			src := &k.state.Sources[min(i, 2)]
			for n := range k.state.Sources {
				if filepath.Base(k.state.Sources[n].File) == scans[i].Name {
					src = &k.state.Sources[n]
				}
			}
			if scans[i].Encoding = encodings[min(i, 2)]; scans[i].Encoding == "" {
				scans[i].Encoding = src.ChosenEncoding()
			}
		}
		if set, err = plate.Open(scans, opt, nil); err != nil {
			return nil, s, nil, err
		}
	}
	notes = append(notes, k.notes...)
	s, note, err := sessionFor(k.state, k.name, intake.Begin(set))
	if note != "" {
		notes = append(notes, k.name+": "+note)
	}
	return set, s, notes, err
}
