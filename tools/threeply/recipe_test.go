package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/spectrum"
	"threeply/tools/files"
)

// keep writes a file into a folder of the test.
func keep(t *testing.T, name, text string) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// ownPalette is a built-in palette with a heavier cyan, under another id.
func ownPalette(t *testing.T) pigment.Palette {
	t.Helper()
	p, _ := pigment.PaletteByID("earth")
	p.ID, p.Name = "mine", "Mine"
	p.Cyan.Load *= 2
	return p
}

// A layer of twice the load is one of twice the thickness, so the file's
// palette must give what the built-in one gives twice as thick, on the paper of
// a spectrum file.
func TestPatchOfFiles(t *testing.T) {
	text, err := ownPalette(t).Write()
	if err != nil {
		t.Fatal(err)
	}
	palette := keep(t, "mine.json", string(text))
	var lines strings.Builder
	for nm := 380; nm <= 730; nm += 10 {
		fmt.Fprintf(&lines, "%d 0.8\n", nm)
	}
	paper := keep(t, "grey.txt", lines.String())
	var all [2]patchReport
	for i, args := range [][]string{{"-palette", palette, "-c", "0.4"}, {"-palette", "earth", "-c", "0.8"}} {
		var out bytes.Buffer
		if err := patch(append(args, "-paper", paper, "-light", "3000K", "-json"), &out); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(out.Bytes(), &all[i]); err != nil {
			t.Fatal(err)
		}
	}
	if d := all[0].Lab.Distance(all[1].Lab); !(d < 1e-9) {
		t.Errorf("%.4f and %.4f", all[0].Lab, all[1].Lab)
	}
	if all[0].Paper[30] != 0.8 {
		t.Errorf("the paper reflects %g", all[0].Paper[30])
	}
	l, _ := spectrum.LightByID("3000K")
	if got := l.Lab(all[0].Reflectance); got.Distance(all[0].Lab) > 1e-9 {
		t.Errorf("not under 3000 K: %.3f, want %.3f", all[0].Lab, got)
	}
}

// What is wrong in a file is said with its name, the line and the reason, and is
// no wrong use of the command.
func TestPatchRefusesFiles(t *testing.T) {
	text, _ := ownPalette(t).Write()
	broken := keep(t, "broken.json", strings.Replace(string(text), `"load": 2`, `"load": 200`, 1))
	hazeless := keep(t, "hazeless.json", strings.Replace(string(text), `"haze": 1,`, "", 1))
	commas := keep(t, "commas.txt", "nm R\n380 0,8\n390 0,8\n")
	gaps := keep(t, "gaps.txt", "380 0.8\n500 0.8\n730 0.8\n")
	for _, c := range []struct {
		args string
		want []string
	}{
		{"-palette " + broken, []string{"broken.json, line ", "load", "200"}},
		{"-palette " + hazeless, []string{"hazeless.json, line ", "haze is missing"}},
		{"-palette earth -paper " + commas, []string{"commas.txt, line 2", "commas for decimals"}},
		{"-palette earth -paper " + gaps, []string{"gaps.txt, line 2", "gap"}},
		{"-palette nosuch.json", []string{"nosuch.json"}},
	} {
		err := patch(strings.Fields(c.args), &bytes.Buffer{})
		var wrong usageError
		if err == nil || errors.As(err, &wrong) {
			t.Errorf("%s: %v", c.args, err)
			continue
		}
		for _, want := range c.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: no %q in “%v”", c.args, want, err)
			}
		}
	}
}

func TestPalettesOfASession(t *testing.T) {
	s := session.New()
	s.OwnPalettes = []pigment.Palette{ownPalette(t)}
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	saved := keep(t, "saved.json", string(text))
	var out bytes.Buffer
	if err := palettes([]string{"-session", saved, "-json"}, &out); err != nil {
		t.Fatal(err)
	}
	var all []paletteReport
	if err := json.Unmarshal(out.Bytes(), &all); err != nil {
		t.Fatal(err)
	}
	last := all[len(all)-1]
	if len(all) != len(pigment.Palettes())+1 || !last.Own || last.ID != "mine" || all[0].Own {
		t.Errorf("%d palettes, the last %q, own %v", len(all), last.ID, last.Own)
	}
	out.Reset()
	if err := palettes([]string{"-session", saved}, &out); err != nil || !strings.Contains(out.String(), "historic, own") {
		t.Errorf("%v in\n%s", err, &out)
	}
	if err := palettes([]string{"-session", keep(t, "not.json", "{}")}, &out); err == nil || !strings.Contains(err.Error(), "not.json") {
		t.Errorf("a file that is no session: %v", err)
	}
}

// A palette and a paper named by their files go into the session, and with it
// into the proof.
func TestFilesGoIntoTheSession(t *testing.T) {
	text, err := ownPalette(t).Write()
	if err != nil {
		t.Fatal(err)
	}
	s := command.NewHistory(session.New())
	palette, paper := keep(t, "mine.json", string(text)), keep(t, "grey.txt", "380 0.8\n400 0.8\n420 0.8\n")
	if err := takeOwn(&files.Job{}, s, &palette, &paper); err == nil || !strings.Contains(err.Error(), "grey.txt") {
		t.Errorf("a spectrum that ends at 420 nm: %v", err)
	}
	none, hazeless := "", keep(t, "hazeless.json", strings.Replace(string(text), `"haze": 1,`, "", 1))
	if err := takeOwn(&files.Job{}, s, &hazeless, &none); err == nil || !strings.Contains(err.Error(), "haze is missing") {
		t.Errorf("a palette without a haze: %v", err)
	}
	id := "earth"
	palette = keep(t, "mine.json", string(text))
	if err := takeOwn(&files.Job{}, s, &palette, &id); err != nil || palette != "" || id != "earth" {
		t.Errorf("%v; palette %q, id %q", err, palette, id)
	}
	if p, ok := s.PaletteByID(s.Palette); !ok || p.Cyan.Load != ownPalette(t).Cyan.Load {
		t.Errorf("chosen is %+v", p)
	}
}

// A printed step tablet named by its file goes into the tissue that is named with it.
func TestWedgesGoIntoTheSession(t *testing.T) {
	file := keep(t, "cyan@noon.txt", "0.05 1.3\n0.2 1.3\n0.5 1.0\n0.8 0.6\n1.1 0.2\n1.4 0\n")
	h := command.NewHistory(session.New())
	f := flag.NewFlagSet("test", flag.ContinueOnError)
	o := addRecipe(f, "nothing")
	if err := f.Parse([]string{"-wedge", "cyan=" + file + "@100"}); err != nil || !slices.Contains(o.files(), file) {
		t.Fatalf("%v, files %v", err, o.files())
	}
	if err := o.apply(&files.Job{}, h); err != nil {
		t.Fatal(err)
	}
	p, _ := h.PaletteByID(h.Palette)
	if w := p.Cyan.Hardening.Wedge; len(w) != 5 || math.Abs(w[4].LogExposure-1.8) > 1e-9 || len(p.Yellow.Hardening.Wedge) != 0 {
		t.Errorf("cyan %+v, yellow %+v", w, p.Yellow.Hardening.Wedge)
	}
	for _, bad := range []string{"cyan", "black=x.txt", "cyan="} {
		if _, err := readWedgeOption(bad); err == nil {
			t.Errorf("-wedge %s was taken", bad)
		}
	}
}

// A patch of a session's recipe is that of the same recipe named by its options.
func TestPatchOfASession(t *testing.T) {
	s := session.New()
	s.Palette, s.Order, s.Finish, s.Light = "chrome", "cmy", "matt", "A"
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	var reports [2]bytes.Buffer
	for i, args := range [][]string{
		{"-session", keep(t, "saved.json", string(text))},
		{"-palette", "chrome", "-order", "cmy", "-finish", "matt", "-light", "A"},
	} {
		if err := patch(append(args, "-json", "-m", "0.5", "-c", "0.7"), &reports[i]); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(reports[0].Bytes(), reports[1].Bytes()) {
		t.Errorf("%s and %s", &reports[0], &reports[1])
	}
}
