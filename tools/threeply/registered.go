package main

import (
	"fmt"
	"io"
	"path/filepath"

	"threeply/proof/picture"
	"threeply/proof/plate"
	registration "threeply/proof/register"
	"threeply/proof/verdict"
)

// writeRegistered puts the three plates, as the key sees them, the picture that
// they make, the maps and the verdict's figures into a folder. found is by filter,
// k the key's; local asks for the local register of the plates that gain by it.
func writeRegistered(dir string, set *plate.Set, found [3]registration.Plate, k int, local bool, say io.Writer) error {
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
	if err := makeFolder(dir); err != nil {
		return err
	}
	write := func(name string, content func(io.Writer) error) error {
		name = filepath.Join(dir, name)
		if err := writeFile(name, content); err != nil {
			return err
		}
		fmt.Fprintf(say, "wrote %s\n", name)
		return nil
	}
	for _, f := range plate.Filters {
		if err := write(f.String()+".tif", picture.RegisteredPlate(&s, set.Density, f).Write); err != nil {
			return err
		}
	}
	if err := write("reference.tif", picture.ReferencePicture(&s, set.Density).Write); err != nil {
		return err
	}
	if err := write("matrices.csv", text(verdict.MatricesCSV(&s))); err != nil {
		return err
	}
	return write("verdict.csv", text(verdict.CSV(&s)))
}

func text(content string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}
}
