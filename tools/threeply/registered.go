package main

import (
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/plate"
	registration "threeply/proof/register"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/tools/files"
)

// writeRegistered puts the three plates, as the key sees them, the picture that
// they make, the maps and the verdict's figures into a folder. found is by filter,
// k the key's; local asks for the local register of the plates that gain by it.
func writeRegistered(job *files.Job, dir string, set *plate.Set, found [3]registration.Plate, k int, local bool, say io.Writer) error {
	s := picture.Begin(set)
	s.Registered, s.Key = "auto", plate.Filter(k).String()
	for f, p := range found {
		i := s.Assign[f]
		s.Found[i], s.Outvoted[i], s.Tones[i] = picture.FoundIn(p), p.Outvoted, p.Tones
	}
	if err := picture.InRegister(&s); err != nil {
		return err
	}
	if local {
		s.LocalOn = true
		for f, p := range found {
			if f == k {
				continue
			}
			i := s.Assign[f]
			w, h := s.Frame()
			s.Local[i] = picture.LocalIn(p, w, h)
			fmt.Fprintf(say, "%s plate: %s\n", plate.Filter(f), verdict.LocalSays(&s, i))
			if !s.Local[i].Worth() {
				s.Local[i] = registration.Local{}
			}
		}
	}
	if err := files.MakeFolder(dir); err != nil {
		return err
	}
	var outs []files.Out
	for i, name := range registeredNames(dir) {
		outs = append(outs, files.Out{Name: name, Content: func(w io.Writer) error { return registeredFiles[i].write(w, &s, set.Density) }})
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
	write func(w io.Writer, s *session.State, planes [3]*plane.Plane) error
}{
	{"red.tif", registeredPlate(plate.Red)},
	{"green.tif", registeredPlate(plate.Green)},
	{"blue.tif", registeredPlate(plate.Blue)},
	{"reference.tif", func(w io.Writer, s *session.State, planes [3]*plane.Plane) error {
		return picture.ReferencePicture(s, planes).Write(w)
	}},
	{"matrices.csv", func(w io.Writer, s *session.State, _ [3]*plane.Plane) error {
		_, err := io.WriteString(w, verdict.MatricesCSV(s))
		return err
	}},
	{"verdict.csv", func(w io.Writer, s *session.State, _ [3]*plane.Plane) error {
		_, err := io.WriteString(w, verdict.CSV(s))
		return err
	}},
}

func registeredPlate(f plate.Filter) func(io.Writer, *session.State, [3]*plane.Plane) error {
	return func(w io.Writer, s *session.State, planes [3]*plane.Plane) error {
		return picture.RegisteredPlate(s, planes, f).Write(w)
	}
}

func registeredNames(dir string) []string {
	var names []string
	for _, file := range registeredFiles {
		names = append(names, filepath.Join(dir, file.name))
	}
	return names
}
