// Package archive gathers what is kept of a set for good: the scans, the plates in register,
// the sheets and the session, as the files of a bag.
package archive

import (
	"io"
	"path"
	"strings"

	"threeply/proof/bag"
	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/icc"
	"threeply/proof/label"
	"threeply/proof/parcel"
	"threeply/proof/picture"
	"threeply/proof/plane"
	"threeply/proof/process"
	"threeply/proof/render"
	"threeply/proof/report"
	"threeply/proof/review"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/proof/verdict"
)

// Scan is one of the scans.
type Scan struct {
	Name    string // of its file
	Content func(w io.Writer) error
}

const about = `This package holds a set of separation plates and what was decided on it.

data/scans       the scans, untouched
data/registered  the plates as the key plate sees them, TIFF of 16 bits, linear transmittance;
                 the reference, which adds them as red, green and blue light; the matrices
                 and the verdict as tables
data/sheets      the review, the report on register and the process sheet, to be read in any
                 browser and printed; the proof, cut to the picture that all three plates hold
                 within their borders; the profile of the tissues
data/session     session.json: all that was measured, set and decided, as JSON

manifest-sha256.txt lists the SHA-256 of every file. The package is a bag by RFC 8493 (BagIt).
Every colour of a print in it is an estimate, computed before anybody printed it.
`

// Of gives the files of a bag in the order in which they are to be written, and notes on
// what is left out of it. planes are at full size, by source; scans are the session's, and
// must have the content that it knows. progress may be nil. It fails where the session's
// print cannot be made.
func Of(s *session.State, planes [3]*plane.Plane, scans []Scan, made label.Made, progress func(share float64, what string)) (files []bag.File, notes []string, err error) {
	if progress == nil {
		progress = func(float64, string) {}
	}
	payload := []bag.File{said("about.txt", strings.ReplaceAll(about, "\n", "\r\n"))}
	sums := sumsOf(s)
	names := map[string]bool{}
	for i, scan := range scans {
		payload = append(payload, bag.File{
			Path: "scans/" + parcel.FreeName(scan.Name, names), SHA256: sums[baseOf(scan.Name)], Scan: i + 1,
			Content: told(scan.Content, progress, 0.05+0.25*float64(i)/float64(len(scans)), "reading the scans"),
		})
	}
	if err := export.InRegister(s); err != nil {
		notes = append(notes, "The plates in register are left out: "+err.Error()+".")
	} else {
		for i, f := range filter.All {
			plate := func(w io.Writer) error { return export.RegisteredPlate(s, planes, f, made).Write(w) }
			payload = append(payload, bag.File{Path: "registered/" + f.String() + ".tif", Content: told(plate, progress, 0.3+0.1*float64(i), "writing the plates in register")})
		}
		reference := func(w io.Writer) error { return export.ReferencePicture(s, planes, made).Write(w) }
		payload = append(payload, bag.File{Path: "registered/reference.tif", Content: told(reference, progress, 0.6, "writing the reference")})
	}
	payload = append(payload, said("registered/matrices.csv", verdict.MatricesCSV(s, made)), said("registered/verdict.csv", verdict.CSV(s, made)))

	proof, err := export.NewProof(s, planes, render.Print, spectrum.SRGB, made)
	if err != nil {
		return nil, nil, err
	}
	recipe, light, err := picture.Recipe(s)
	if err != nil {
		return nil, nil, err
	}
	text, err := session.WriteFile(*s, made.Written())
	if err != nil {
		return nil, nil, err
	}
	sheet := func(w io.Writer) error {
		sheet, err := review.Of(s, planes, made, review.Options{}, nil)
		if err != nil {
			return err
		}
		return sheet.Write(w)
	}
	proof.Crop(s, planes)
	register := func(w io.Writer) error {
		r, err := report.Of(s, planes, made)
		if err != nil {
			return err
		}
		return r.Write(w)
	}
	steps, err := process.Of(s, made)
	if err != nil {
		return nil, nil, err
	}
	profile := func(w io.Writer) error {
		_, err := w.Write(icc.Output(recipe, light, s.Limit, icc.Title(recipe, light, s.Limit), made.Tool, made.At, nil))
		return err
	}
	payload = append(payload,
		bag.File{Path: "sheets/review.html", Content: told(sheet, progress, 0.7, "making the review sheet")},
		bag.File{Path: "sheets/register.html", Content: told(register, progress, 0.75, "writing the report on register")},
		bag.File{Path: "sheets/process.html", Content: told(steps.Write, progress, 0.78, "writing the process sheet")},
		bag.File{Path: "sheets/proof.tif", Content: told(proof.WriteTIFF, progress, 0.8, "writing the proof")},
		bag.File{Path: "sheets/tissues.icc", Content: told(profile, progress, 0.9, "computing the profile")},
		said("session/session.json", string(text)),
	)
	files, err = bag.Files(payload, bag.Info{
		Organization: s.Identity.Collection, Identifier: s.Identity.Number, Description: describe(s), Software: made.Tool, Date: made.At,
	})
	return files, notes, err
}

func describe(s *session.State) string {
	parts := []string{}
	for _, part := range []string{s.Title, s.Identity.Description} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(append(parts, "separation plates with what was decided on their print"), "; ")
}

func said(path, text string) bag.File {
	return bag.File{Path: path, Content: func(w io.Writer) error { _, err := io.WriteString(w, text); return err }}
}

// told says what is being written before it is.
func told(content func(io.Writer) error, progress func(float64, string), share float64, what string) func(io.Writer) error {
	return func(w io.Writer) error {
		progress(share, what)
		return content(w)
	}
}

// sumsOf are the SHA-256 that the session knows its files by. Of two files of one name
// nothing is known by the name.
func sumsOf(s *session.State) map[string]string {
	sums := map[string]string{}
	for _, src := range s.Sources {
		name := baseOf(src.File)
		if old, twice := sums[name]; twice && old != src.SHA256 {
			sums[name] = ""
			continue
		}
		sums[name] = src.SHA256
	}
	return sums
}

// baseOf is a file's name without its folders.
func baseOf(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }
