package main

import (
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/label"
	"threeply/proof/plane"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/proof/warp"
	"threeply/tools/files"
)

// writeRegistered puts the three plates, as the key sees them, the picture that
// they make, the maps and the verdict's figures into a folder. planes are at full
// size, by source; local asks for the local register of the plates that gain by it.
func writeRegistered(job *files.Job, dir string, s *session.State, planes [3]*plane.Plane, found registration.Registration, local bool, say io.Writer, made label.Made) error {
	if err := export.InRegister(s); err != nil {
		return err
	}
	if local {
		s.LocalOn, s.Local = true, found.Local
		for _, f := range filter.All {
			name := f.String()
			i := s.Assign[f]
			if i == s.KeySource() {
				continue
			}
			fmt.Fprintf(say, "%s plate: %s\n", name, verdict.LocalSays(s, i))
			if !s.Local[i].Worth() {
				s.Local[i] = warp.Local{}
			}
		}
	}
	if err := files.MakeFolder(dir); err != nil {
		return err
	}
	var outs []files.Out
	for i, name := range registeredNames(dir) {
		outs = append(outs, files.Out{Name: name, Content: func(w io.Writer) error { return registeredFiles[i].write(w, s, planes, made) }})
	}
	if err := job.Write(outs...); err != nil {
		return err
	}
	for _, out := range outs {
		fmt.Fprintf(say, "wrote %s\n", out.Name)
	}
	return nil
}

// registeredFiles are the files that “register -o” puts into its folder. planes
// are at full size, by source.
var registeredFiles = []struct {
	name  string
	write func(w io.Writer, s *session.State, planes [3]*plane.Plane, made label.Made) error
}{
	{"red.tif", registeredPlate(filter.Red)},
	{"green.tif", registeredPlate(filter.Green)},
	{"blue.tif", registeredPlate(filter.Blue)},
	{"reference.tif", func(w io.Writer, s *session.State, planes [3]*plane.Plane, made label.Made) error {
		return export.ReferencePicture(s, planes, made).Write(w)
	}},
	{"matrices.csv", func(w io.Writer, s *session.State, _ [3]*plane.Plane, made label.Made) error {
		_, err := io.WriteString(w, verdict.MatricesCSV(s, made))
		return err
	}},
	{"verdict.csv", func(w io.Writer, s *session.State, _ [3]*plane.Plane, made label.Made) error {
		_, err := io.WriteString(w, verdict.CSV(s, made))
		return err
	}},
}

func registeredPlate(f filter.Filter) func(io.Writer, *session.State, [3]*plane.Plane, label.Made) error {
	return func(w io.Writer, s *session.State, planes [3]*plane.Plane, made label.Made) error {
		return export.RegisteredPlate(s, planes, f, made).Write(w)
	}
}

func registeredNames(dir string) []string {
	var names []string
	for _, file := range registeredFiles {
		names = append(names, filepath.Join(dir, file.name))
	}
	return names
}
