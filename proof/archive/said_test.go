package archive

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"threeply/proof/export"
	"threeply/proof/filter"
	"threeply/proof/fit"
	"threeply/proof/label"
	"threeply/proof/picture"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/render"
	"threeply/proof/report"
	"threeply/proof/review"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/proof/setter"
	"threeply/proof/spectrum"
	"threeply/proof/testplan"
	"threeply/proof/testsheet"
	"threeply/proof/verdict"
)

// Whatever leaves says of which object and which scans it is, their SHA-256, when and by
// what it was made; pictures, tables and the session say too how the plates were laid, and
// what shows the print which layer is hidden.
func TestEveryKindSaysWhatItIs(t *testing.T) {
	s, planes := picturetest.Scene(24, func(_, x, y int) float64 { return float64(x+y) / 48 })
	known := sessiontest.Marked()
	s.Title, s.Identity, s.PlateIdentities, s.PrintWidth = known.Title, known.Identity, known.PlateIdentities, 12
	s.Hidden[pigment.Yellow] = true
	for i := range s.Sources {
		s.Sources[i].SHA256 = strings.Repeat(string("abc"[i]), 64)
	}
	s.Found, s.Registered, s.FoundKey = known.Found, "auto", 1
	made := label.Made{Tool: "Threeply v1", At: time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)}

	printing, err := picture.PrepareFor(&s, planes)
	if err != nil {
		t.Fatal(err)
	}
	proof, err := export.NewProof(&s, planes, render.Print, spectrum.SRGB, made)
	if err != nil {
		t.Fatal(err)
	}
	negatives, err := setter.New(&s, planes, made)
	if err != nil {
		t.Fatal(err)
	}
	negative, err := negatives.TIFF(pigment.Cyan)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := review.Of(&s, planes, made, review.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	register, err := report.Of(&s, planes, made)
	if err != nil {
		t.Fatal(err)
	}
	text := func(says string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, says); return err }
	}
	kept, err := session.WriteFile(s, made.Written())
	if err != nil {
		t.Fatal(err)
	}

	object := []string{s.Title, "1937.0412 a–c", "Ida Marten", "about 1937", "Norhaven", "Harbour Board", "Boats at the quay", "No known rights",
		"red.tif", "green.tif", "blue.tif", s.Sources[0].SHA256, s.Sources[1].SHA256, s.Sources[2].SHA256, "a crack at the lower left", "Threeply v1"}
	everywhere := append(object[:len(object):len(object)], "2026-03-02T10:20:00Z")
	matrices := []string{}
	for _, p := range label.Of(&s, made, "").Pairs() {
		if strings.HasSuffix(p.Name, "matrix from the key") {
			matrices = append(matrices, p.Says)
		}
	}
	if len(matrices) != 3 {
		t.Fatalf("%d matrices are said", len(matrices))
	}
	pictures := append(everywhere[:len(everywhere):len(everywhere)], matrices...)
	numbers := append(everywhere[:len(everywhere):len(everywhere)], strings.Fields(matrices[0])...)
	// What belongs to the workshop says no object, but which sheet it is of.
	palette, _ := s.PaletteByID(s.Palette)
	tests, err := setter.NewTest(testsheet.Of(palette), palette, s.Setup(), s.Transfer(), made)
	if err != nil {
		t.Fatal(err)
	}
	test, err := tests.TIFF(pigment.Cyan)
	if err != nil {
		t.Fatal(err)
	}
	wedge, err := setter.OwnWedge(s.Setup(), made)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := testsheet.Of(palette).File(palette, made.Tool, made.Time())
	if err != nil {
		t.Fatal(err)
	}
	workshop := []string{"Threeply v1", "2026-03-02T10:20:00Z"}
	ofSheet := append(workshop[:2:2], "palette "+palette.ID, "seed 1931")
	const hidden = "yellow layer is hidden and left out"
	shown := append(pictures[:len(pictures):len(pictures)], hidden)
	for name, one := range map[string]struct {
		write func(io.Writer) error
		wants []string
	}{
		"proof.png":           {proof.WritePNG, shown},
		"proof.tif":           {proof.WriteTIFF, shown},
		"red plate.tif":       {export.RegisteredPlate(&s, planes, filter.Red, made).Write, pictures},
		"reference.tif":       {export.ReferencePicture(&s, planes, made).Write, pictures},
		"cyan negative.tif":   {negative.Write, pictures},
		"curves.csv":          {text(export.CurvesCSV(&s, printing, made)), pictures},
		"verdict.csv":         {text(verdict.CSV(&s, made)), pictures},
		"register.csv":        {text(verdict.MatricesCSV(&s, made)), numbers},
		"film-wedge.tif":      {wedge.Write, workshop},
		"test sheet.tif":      {test.Write, ofSheet},
		"test-sheet.json":     {text(string(plan)), ofSheet},
		"seen.csv":            {text(string(fit.SeenTable(testplan.Remark(testsheet.Of(palette), palette, made)))), ofSheet},
		"readings.csv":        {text(string(testplan.Table(testsheet.Of(palette), palette, made))), ofSheet},
		"session.json":        {text(string(kept)), everywhere},
		"review sheet.html":   {sheet.Write, append(object[:len(object):len(object)], hidden)},
		"register sheet.html": {register.Write, object},
	} {
		var b bytes.Buffer
		if err := one.write(&b); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, want := range one.wants {
			if !bytes.Contains(b.Bytes(), []byte(want)) {
				t.Errorf("%s does not say %q", name, want)
			}
		}
	}
}
