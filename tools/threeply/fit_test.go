package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/export"
	"threeply/proof/fit"
	"threeply/proof/pigment"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

// tissuesOf are those of a palette.
func tissuesOf(palette string) *stack.Layers {
	p, _ := pigment.PaletteByID(palette)
	return stack.DefaultRecipe(p).Layers()
}

// tissuesFarOff are far from those of any palette: of published swatches, as in
// TestTissuesOfPublishedSwatches of package fit.
func tissuesFarOff() *stack.Layers {
	l := tissuesOf("arylide")
	for i, ci := range []string{"PY37", "NR9", "PG50"} {
		g, _ := pigment.PigmentByCI(ci)
		l.K[i], l.S[i] = g.K(), g.S()
	}
	return l
}

// printedWith is what an instrument reads of a test sheet that was printed with tissues,
// on straight lines from the threshold to the whole coat.
func printedWith(tissues *stack.Layers, sheet testSheetJSON) string {
	var out strings.Builder
	out.WriteString("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID")
	for nm := 380; nm <= 730; nm += 10 {
		fmt.Fprintf(&out, " SPECTRAL_PCT%d", nm)
	}
	out.WriteString("\nEND_DATA_FORMAT\nBEGIN_DATA\n")
	for _, one := range sheet.Patches {
		if one.Ground == "dark" {
			continue
		}
		var amounts [3]float64
		for l, name := range []string{"yellow", "magenta", "cyan"} {
			if e := one.LogE[name]; e != nil {
				amounts[l] = min(max(1+*e/1.4, 0), 1)
			}
		}
		out.WriteString(one.ID)
		for i, v := range tissues.Reflectance(amounts) {
			if i%2 == 0 {
				fmt.Fprintf(&out, " %.3f", 100*v)
			}
		}
		out.WriteString("\n")
	}
	out.WriteString("END_DATA\n")
	return out.String()
}

// From the sheet by way of readings to a palette file that other commands take.
func TestFitFromSheetToPalette(t *testing.T) {
	dir := t.TempDir()
	var out, warned bytes.Buffer
	if code := run([]string{"testsheet", "-palette", "arylide", "-json"}, &out, &warned); code != 0 {
		t.Fatal(&warned)
	}
	plan := filepath.Join(dir, "test-sheet.json")
	if err := os.WriteFile(plan, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	var sheet testSheetJSON
	if err := json.Unmarshal(out.Bytes(), &sheet); err != nil {
		t.Fatal(err)
	}
	readings, made := filepath.Join(dir, "readings.txt"), filepath.Join(dir, "own-palette.json")
	if err := os.WriteFile(readings, []byte(printedWith(tissuesOf("amber"), sheet)), 0o644); err != nil {
		t.Fatal(err)
	}
	out.Reset()
	if code := run([]string{"fit", "-palette", "arylide", "-json", "-o", made, plan, readings}, &out, &warned); code != 0 {
		t.Fatal(&warned)
	}
	var said struct {
		Patches []struct {
			ID, Use   string
			Measured  []float64 `json:"measured_lab"`
			Predicted []float64 `json:"predicted_lab"`
			DE00      float64
		}
		HeldOut struct {
			Mean, P95, Max float64
			N              int
		} `json:"held_out"`
		Layers map[string]map[string]any
		Left   []string `json:"left_at_prior"`
	}
	if err := json.Unmarshal(out.Bytes(), &said); err != nil {
		t.Fatal(err)
	}
	t.Logf("held out %+v", said.HeldOut)
	if len(said.Patches) < 90 || len(said.Layers) != 3 || said.HeldOut.N != 12 || said.HeldOut.Mean > 0.7 || said.Left == nil {
		t.Errorf("%d patches, %d layers, %+v, left %v", len(said.Patches), len(said.Layers), said.HeldOut, said.Left)
	}

	// The palette that was written prints the amber tissues.
	lab := func(palette string) (l [3]float64) {
		out.Reset()
		if code := run([]string{"patch", "-palette", palette, "-y", "0.5", "-m", "0.5", "-c", "0.5", "-json"}, &out, &warned); code != 0 {
			t.Fatal(&warned)
		}
		var p struct{ Lab [3]float64 }
		if err := json.Unmarshal(out.Bytes(), &p); err != nil {
			t.Fatal(err)
		}
		return p.Lab
	}
	got, want := lab(made), lab("amber")
	for i := range got {
		if math.Abs(got[i]-want[i]) > 1 {
			t.Errorf("the palette prints %.2f, the tissues %.2f", got, want)
			break
		}
	}
	// Read upside down it is refused, and put right where that is asked for.
	turned := printedWith(tissuesOf("amber"), sheet)
	var lines []string
	for _, line := range strings.Split(turned, "\n") {
		id, rest, _ := strings.Cut(line, " ")
		for _, one := range sheet.Patches {
			if one.ID == id {
				var col int
				fmt.Sscan(id[1:], &col)
				line = fmt.Sprintf("%c%d %s", 'A'+'K'-id[0], 13-col, rest)
				break
			}
		}
		lines = append(lines, line)
	}
	if err := os.WriteFile(filepath.Join(dir, "turned.txt"), []byte(strings.Join(lines, "\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	warned.Reset()
	if code := run([]string{"fit", "-palette", "arylide", filepath.Join(dir, "turned.txt")}, &out, &warned); code != 1 || !strings.Contains(warned.String(), "read upside down") {
		t.Errorf("read upside down it ends with %d: %s", code, &warned)
	}
	if code := run([]string{"fit", "-palette", "arylide", "-mend", filepath.Join(dir, "turned.txt")}, &out, &warned); code != 0 {
		t.Errorf("to be put right it ends with %d: %s", code, &warned)
	}
	// Two rows that were swapped, where only the fit tells it.
	swapped := strings.NewReplacer("\nF", "\nG", "\nG", "\nF").Replace(printedWith(tissuesFarOff(), sheet))
	p, _ := pigment.PaletteByID("arylide")
	drawn := testsheet.Of(p)
	if r, err := fit.Take(&drawn, "", fit.File{Name: "swapped.txt", Text: []byte(swapped)}); err != nil || r.Misread(&drawn, stack.DefaultRecipe(p)) != nil {
		t.Errorf("%v: or by the palette alone it is seen that rows were swapped: choose other tissues", err)
	}
	if err := os.WriteFile(filepath.Join(dir, "swapped.txt"), []byte(swapped), 0o644); err != nil {
		t.Fatal(err)
	}
	warned.Reset()
	if code := run([]string{"fit", "-palette", "arylide", filepath.Join(dir, "swapped.txt")}, &out, &warned); code != 1 || !strings.Contains(warned.String(), "swapped.txt: ") || !strings.Contains(warned.String(), "with rows F and G swapped") {
		t.Errorf("with rows swapped it ends with %d: %s", code, &warned)
	}
	out.Reset()
	if code := run([]string{"fit", "-palette", "arylide", "-mend", filepath.Join(dir, "swapped.txt")}, &out, &warned); code != 0 || !strings.Contains(out.String(), "with rows F and G swapped; the readings were put right") {
		t.Errorf("to be put right it ends with %d: %s", code, &out)
	}
	if code := run([]string{"fit", "-palette", "arylide", "-o", made, readings}, &out, &warned); code != 1 {
		t.Errorf("over a file that is there it ends with %d", code)
	}
	out.Reset()
	if code := run([]string{"fit", "-palette", "arylide", "-against", made, readings}, &out, &warned); code != 0 || !strings.Contains(out.String(), "cyan: load +0 %, exposure +0.00 stops") || !strings.Contains(out.String(), "Exposures for half a coat: cyan 1 : yellow 1 : magenta 1, times each layer’s own") || !strings.Contains(out.String(), "held out") || !strings.Contains(out.String(), "Next, measure the row on black") {
		t.Errorf("%d: %s", code, &out)
	}
}

// What the eye told becomes a palette that says so, also where it proofs.
func TestFitByEye(t *testing.T) {
	dir := t.TempDir()
	palette, _ := pigment.PaletteByID("arylide")
	sheet := testsheet.Of(palette)
	table := "LAYER,HELD,LAST,MATCH,DENSITY\n"
	for _, p := range pigment.Printers() {
		w := sheet.Wedge(p)
		table += fmt.Sprintf("%s,%s,%s,%s,0.9\n", p, w[len(w)-5].ID, w[0].ID, w[len(w)/2].ID)
	}
	seen, made := filepath.Join(dir, "seen.csv"), filepath.Join(dir, "own.json")
	if err := os.WriteFile(seen, []byte(table), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, warned bytes.Buffer
	if code := run([]string{"fit", "-palette", "arylide", "-o", made, seen}, &out, &warned); code != 0 || !strings.Contains(out.String(), "Judged by eye: errors of about") || strings.Contains(out.String(), "MEAN") {
		t.Fatal(&out, &warned)
	}
	out.Reset()
	if code := run([]string{"patch", "-palette", made, "-y", "0.5", "-m", "0.5", "-c", "0.5"}, &out, &warned); code != 0 {
		t.Fatal(&warned)
	}
	text, err := os.ReadFile(made)
	if err != nil {
		t.Fatal(err)
	}
	if p, err := pigment.Read(text); err != nil || p.Measured == nil || p.Measured.Seen == nil || p.Measured.Seen.Magenta.Density != 0.9 || !strings.Contains(export.RestsOn(p), "Judged by eye") {
		t.Errorf("%v: %+v", err, p.Measured)
	}
}

func TestFitRefuses(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.txt")
	if err := os.WriteFile(bad, []byte("SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,0,1,0,2,0,3\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	target := filepath.Join(dir, "target.txt")
	text := "SAMPLE_ID,LAB_L,LAB_A,LAB_B\n"
	for i := range 24 {
		text += fmt.Sprintf("%c%d,%d,0,0\n", 'A'+i/6, i%6+1, 10+3*i)
	}
	if err := os.WriteFile(target, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ args, says string }{
		{"-palette arylide", "no readings are named"},
		{bad, "-palette is missing"},
		{"-palette arylide " + bad, "bad.txt, line 2: "},
		{"-palette arylide -against chrome " + bad, "this palette was not measured"},
		{"-palette arylide -against none.json " + bad, "none.json: there is no such file"},
		{"-palette arylide " + filepath.Join(dir, "none.txt"), "no such file"},
		{"-palette arylide -o " + bad + " " + bad, "never written over"},
		{"-palette arylide -target " + bad + " " + bad, "go with -scan"},
		{"-palette arylide -scan " + bad, "needs a colour target on the same scan"},
		{"-palette arylide -scan s.tif -target-at 1,2,3,4,5,6 -target " + bad + " " + bad, "give nothing else but the plan"},
		{"-palette arylide -scan s.tif -target-at 1,2,3,4,5,6 -target " + bad, "bad.txt, line 2: "},
		{"-palette arylide -scan s.tif -target-at 1,2,3 -target " + target, "takes six numbers"},
		{"-palette arylide -scan s.tif -target-at 1,2,3,4,5,x -target " + target, "“x” is no number"},
		{"-palette arylide -scan " + bad + " -target-at 1,2,3,4,5,6 -target " + target, "holds text, not a picture"},
	} {
		var out, warned bytes.Buffer
		if code := run(append([]string{"fit"}, strings.Fields(c.args)...), &out, &warned); code == 0 || !strings.Contains(warned.String(), c.says) {
			t.Errorf("%s: ends with %d: %s", c.args, code, &warned)
		}
	}
}
