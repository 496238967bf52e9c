package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math"
	"path/filepath"
	"slices"

	"golang.org/x/image/draw"

	"threeply/proof/command"
	"threeply/proof/export"
	"threeply/proof/fitness"
	"threeply/proof/label"
	"threeply/proof/levels"
	"threeply/proof/registration"
	"threeply/proof/render"
	"threeply/proof/session"
	"threeply/proof/verdict"
	"threeply/tools/batch"
	"threeply/tools/files"
)

// make registers a set and writes its files into a folder.
func (b batchOptions) make(s batch.Set, folder string) (batch.Figures, error) {
	job := &files.Job{}
	opening := b.opening
	for column, option := range map[string]**string{batch.Layout: &opening.layout, batch.Encoding: &opening.encoding} {
		if says, ok := s.Says[column]; ok {
			*option = &says
		}
	}
	var notes []string
	set, state, more, err := openWork(job, opening, s.Session, s.Files, func(note string) { notes = append(notes, note) })
	if err != nil {
		return batch.Figures{}, err
	}
	notes = append(notes, more...)
	for i := range state.Sources {
		if n := slices.Index(s.Files, state.Sources[i].File); n >= 0 {
			state.Sources[i].File = s.Named[n]
		}
	}
	if s.Session == "" {
		state.Key = *b.key
		if says := s.Says[batch.Key]; says != "" {
			if err := checkKey(says); err != nil {
				return batch.Figures{}, err
			}
			state.Key = says
		}
	}
	if s.Recipe != "" {
		kept, err := readSaved(job, s.Recipe)
		if err != nil {
			return batch.Figures{}, err
		}
		offsets := state.Offsets // those of the recipe were laid for other plates
		state.TakeSettings(kept.state)
		state.Offsets = offsets
		notes = append(notes, kept.notes...)
	}
	history := command.NewHistory(state)
	if err := describe(history, s); err != nil {
		return batch.Figures{}, err
	}
	palettes, err := b.palettesOf(history, s)
	if err != nil {
		return batch.Figures{}, err
	}
	rests, err := settled(history, set, b.assume)
	if err != nil {
		return batch.Figures{}, err
	}
	figures := b.figures(&history.State, s, rests, notes)
	if b.plates {
		if err := export.InRegister(&history.State); err == nil {
			if err := writeRegistered(job, folder, &history.State, set.Density, registration.Registration{}, false, io.Discard, b.made); err != nil {
				return batch.Figures{}, err
			}
		} else {
			figures.Look = append(figures.Look, "no plates in register: "+err.Error())
		}
	}
	for _, id := range palettes {
		if err := history.Do(command.Palette{ID: id}, ""); err != nil {
			return batch.Figures{}, err
		}
		space, err := export.SpaceOf(b.space)
		if err != nil {
			return batch.Figures{}, err
		}
		p, err := export.NewProof(&history.State, set.Density, render.Print, space, b.made)
		if err != nil {
			return batch.Figures{}, err
		}
		p.Crop(&history.State, set.Density)
		img := p.Image()
		name, small := "proof-"+id+".png", "small-"+id+".jpg"
		err = job.Write(
			files.Out{Name: filepath.Join(folder, name), Content: func(w io.Writer) error { return p.WriteImage(w, img) }},
			files.Out{Name: filepath.Join(folder, small), Content: func(w io.Writer) error { return writeSmall(w, smaller(img), b.made.Tool) }},
		)
		if err != nil {
			return batch.Figures{}, err
		}
		figures.Small = append(figures.Small, small)
	}
	return figures, nil
}

// palettesOf are the palettes of a set's proofs, each once.
func (b batchOptions) palettesOf(history *command.History, s batch.Set) (palettes []string, err error) {
	asked := b.palettes
	if own := listOf(s.Says[batch.Palettes]); len(own) > 0 {
		asked = own
	}
	if len(asked) == 0 {
		asked = []string{history.Palette}
	}
	for _, id := range asked {
		if err := checkKnown(history, id, "", "", ""); err != nil {
			return nil, err
		}
		if !slices.Contains(palettes, id) {
			palettes = append(palettes, id)
		}
	}
	return palettes, nil
}

// describe gives a session what the manifest says of the object; a set without a title
// has its name as one.
func describe(history *command.History, s batch.Set) error {
	says := func(column string) *string {
		if text, ok := s.Says[column]; ok {
			return &text
		}
		return nil
	}
	title := s.Says[batch.Title]
	if title == "" && s.Session == "" { // a recipe's is another object's
		title = s.Name
	}
	if title != "" {
		if err := history.Do(command.Title{Text: title}, ""); err != nil {
			return err
		}
	}
	id := command.Identify{
		Number: says(batch.Number), Creator: says(batch.Creator), Created: says(batch.Created), Place: says(batch.Place),
		Collection: says(batch.Collection), Description: says(batch.Description), Rights: says(batch.Rights),
	}
	if id == (command.Identify{}) {
		return nil
	}
	return history.Do(id, "")
}

const (
	surelyFound = 0.7  // confidence below which a person must look at a register
	someClipped = 0.01 // share of a picture at a limit of its scanner, likewise
	smallSide   = 320  // of a picture of the contact sheet, pixels
)

// figures are what the report says of a set that was registered.
func (b batchOptions) figures(s *session.State, set batch.Set, rests *basis, notes []string) batch.Figures {
	v := verdict.OfScan(s)
	f := batch.Figures{
		Set: set.Name, Why: batch.Fine, Verdict: verdict.SignWords(v.Sign), Stars: v.Stars, Confidence: figure(v.LeastConfident),
		Title: s.Title, Number: s.Identity.Number, Folder: set.Name, Tool: label.Tool(),
	}
	if v.Measured {
		f.P95, f.Largest, f.Coverage = figure(v.P95), figure(v.Largest), figure(v.Coverage)
	}
	look := func(why int, degree float64, says string) {
		if why < f.Why {
			f.Why, f.Degree = why, *figure(degree)
		}
		f.Look = append(f.Look, says)
	}
	in, judged := v.InRegister()
	switch {
	case !judged:
		look(batch.Unsure, 1, v.Sentence)
	case v.LeastConfident < surelyFound:
		look(batch.Unsure, 1-v.LeastConfident, fmt.Sprintf("register is %.0f %% sure", 100*v.LeastConfident))
	}
	if judged && (!in || v.Parted) {
		look(batch.Out, v.P95, v.Sentence)
	}
	clipped := 0.0
	for i, src := range s.Sources {
		f.SHA256 = append(f.SHA256, src.SHA256)
		for _, share := range src.Scan.Clipped {
			clipped = max(clipped, share)
		}
		for _, remark := range src.Remarks {
			notes = append(notes, fmt.Sprintf("%s: %s", filepath.Base(s.Sources[i].File), remark))
		}
	}
	if f.Clipped = figure(clipped); clipped > someClipped {
		look(batch.Clipped, clipped, fmt.Sprintf("%.0f %% of a picture is clipped", 100*clipped))
	}
	if rests != nil && rests.light != nil {
		f.Apart = figure(rests.light.Apart)
		if rests.light.Unknown() {
			degree := 99.0 // nothing tells
			if f.Apart != nil {
				degree = *f.Apart
			}
			look(batch.Unlevel, degree, rests.light.Words)
		}
	}
	for _, found := range levels.Fitness(s, [3]float64{}) {
		if found.About == fitness.LevelledApart {
			look(batch.Unlevel, 99, found.Says) // nothing tells
		}
	}
	for _, note := range notes {
		look(batch.Remarked, 0, note)
	}
	return f
}

// figure is a number as the report keeps it, to a millionth; nil for one that is none.
func figure(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	v = math.Round(v*1e6) / 1e6
	return &v
}

// smaller is a picture for the contact sheet.
func smaller(img image.Image) image.Image {
	size := img.Bounds().Size()
	scale := min(1, smallSide/float64(max(size.X, size.Y)))
	out := image.NewRGBA(image.Rect(0, 0, max(int(scale*float64(size.X)), 1), max(int(scale*float64(size.Y)), 1)))
	draw.BiLinear.Scale(out, out.Rect, img, img.Bounds(), draw.Src, nil)
	return out
}

// writeSmall writes a small picture as a JPEG with a comment (ITU-T T.81, B.2.4.5).
func writeSmall(out io.Writer, img image.Image, comment string) error {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 85}); err != nil {
		return err
	}
	const begins, comments = "\xff\xd8", "\xff\xfe"
	said := binary.BigEndian.AppendUint16([]byte(begins+comments), uint16(2+len(comment)))
	_, err := out.Write(slices.Concat(said, []byte(comment), b.Bytes()[len(begins):]))
	return err
}
