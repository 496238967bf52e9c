//go:build js

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"syscall/js"
	"time"

	"threeply/proof/fit"
	"threeply/proof/flatbed"
	"threeply/proof/label"
	"threeply/proof/pigment"
	"threeply/proof/scan"
	"threeply/proof/session"
	"threeply/proof/setter"
	"threeply/proof/stack"
	"threeply/proof/testplan"
	"threeply/proof/testsheet"
)

// testSheet: session, and what of the test sheet of its palette leaves: the negative of a
// printer, "page", "plan" or "table" → the file's parts.
func testSheet(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, err := session.Read("the session", []byte(m.Get("session").String()))
	if err != nil {
		return nil, nil, err
	}
	palette, _ := s.PaletteByID(s.Palette)
	route := s.Transfer()
	sheet, made := testsheet.Of(palette), label.Now()
	negatives, err := setter.NewTest(sheet, palette, s.Setup(), route, made)
	if err != nil {
		return nil, nil, err
	}
	var out parts
	switch what := m.Get("what").String(); what {
	case "page":
		err = testplan.Of(sheet, palette, negatives.Lies(), negatives.Notes, made).Write(&out)
	case "plan":
		var text []byte
		if text, err = sheet.File(palette, made.Tool, made.Time()); err == nil {
			_, err = out.Write(text)
		}
	case "table":
		_, err = out.Write(testplan.Table(sheet, palette, made))
	default:
		err = fmt.Errorf("no part “%s” of a test sheet", what)
		for _, p := range pigment.Printers() {
			if p.String() == what {
				err = testNegative(negatives, p, progress, &out)
			}
		}
	}
	if err != nil {
		return nil, nil, err
	}
	return out.list, out.buffers, nil
}

func testNegative(n *setter.TestNegatives, p pigment.Printer, progress func(float64, string), out *parts) error {
	t, err := n.TIFF(p)
	if err != nil {
		return err
	}
	t.Progress = func(share float64) { progress(share, "drawing the "+p.String()+" negative") }
	return t.Write(out)
}

// fitReadings: session, status of densities, files [{name, text}] → what the readings of
// the test sheet say, as text. With scans (one File or two), target (a text) and corners
// (six numbers) the sheet is read off the scans, and the files hold its plan or nothing.
func fitReadings(m js.Value, progress func(float64, string)) (any, []any, error) {
	s, r, _, err := recipe(m)
	if err != nil {
		return nil, nil, err
	}
	var files []fit.File
	for list, i := m.Get("files"), 0; i < list.Length(); i++ {
		files = append(files, fit.File{Name: list.Index(i).Get("name").String(), Text: []byte(list.Index(i).Get("text").String())})
	}
	of, known := s.TestSheets()
	given, err := fit.Gather(of, known, files)
	if err != nil {
		return nil, nil, err
	}
	sheet, texts := given.Sheet, given.Readings
	var found *fit.Result
	said := ""
	if scanned := m.Get("scans"); scanned.Truthy() {
		found, err = fitScan(sheet, scanned, m.Get("target").String(), m.Get("corners"), r, progress)
	} else {
		found, said, err = fitTexts(sheet, texts, r, m.Get("status").String(), progress)
	}
	if err != nil {
		return nil, nil, err
	}
	found.Sentence = given.Say + said + found.Sentence
	palette := found.MeasuredPalette(r.Palette, pigment.Measurement{Paper: r.Paper.Name, Finish: s.Finish, Sheets: max(len(texts), 1)}, time.Now())
	found.Compare(s.OwnPalettes, palette, s.BaseExposures())
	text, err := json.Marshal(found.Show(sheet, palette))
	return string(text), nil, err
}

// fitTexts finds the tissues from what was read of a sheet, or seen of it by eye, and says
// what is to be known before they are taken.
func fitTexts(sheet testsheet.Sheet, texts []fit.File, r stack.Recipe, status string, progress func(float64, string)) (found *fit.Result, said string, err error) {
	seen, err := fit.SeenAmong(texts)
	if err != nil {
		return nil, "", err
	}
	if seen != nil {
		found, err = fit.BySight(sheet, *seen, r)
		return found, "", err
	}
	readings, err := fit.Take(&sheet, status, texts...)
	if err != nil {
		return nil, "", err
	}
	if wrong := readings.Misread(&sheet, r); wrong != nil {
		readings.Mend(wrong)
		said = fmt.Sprintf("The sheet was read %s; the readings were put right. ", wrong.Words)
	}
	job := fit.Job{Sheet: sheet, Readings: readings, Recipe: r, Progress: func(share float64) { progress(share, "fitting the tissues") }}
	if found, err = fit.Of(context.Background(), job); err != nil {
		return nil, "", err
	}
	if wrong := found.Misread(); wrong != nil { // as only the fit shows
		readings.Mend(wrong)
		said += fmt.Sprintf("The sheet was read %s; the readings were put right. ", wrong.Words)
		found, err = fit.Of(context.Background(), job)
	}
	return found, said, err
}

// fitScan reads the sheet off one scan or two.
func fitScan(sheet testsheet.Sheet, list js.Value, reference string, corners js.Value, r stack.Recipe, progress func(float64, string)) (*fit.Result, error) {
	target, err := flatbed.ReadTarget([]byte(reference))
	if err != nil {
		return nil, fmt.Errorf("the target’s reference, %w", err)
	}
	for i := range target.Corners {
		target.Corners[i] = [2]float64{corners.Index(2 * i).Float(), corners.Index(2*i + 1).Float()}
	}
	var scans []*scan.Scan
	for i := range list.Length() {
		s, err := decoded(list.Index(i))
		if err != nil {
			return nil, err
		}
		progress(0, "reading the sheet")
		scans = append(scans, s)
	}
	readings, _, err := flatbed.Read(scans, target, sheet, r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", scans[0].Name, err)
	}
	return fit.Of(context.Background(), fit.Job{Sheet: sheet, Readings: readings, Recipe: r, Progress: func(share float64) { progress(share, "fitting the tissues") }})
}

// flatbedSide is the longest side of the picture that a target is pointed at in.
const flatbedSide = 1200

// flatbedPreview: file, target (a text, or ""), session → a small picture of a scan, how many of
// its pixels each is wide, and where the target lies: corners, in pixels of the scan, and sure.
func flatbedPreview(m js.Value, _ func(float64, string)) (any, []any, error) {
	s, err := decoded(m.Get("file"))
	if err != nil {
		return nil, nil, err
	}
	corners, sure := []any{}, false
	if text := m.Get("target").String(); text != "" {
		target, err := flatbed.ReadTarget([]byte(text))
		if err != nil {
			return nil, nil, fmt.Errorf("the target’s reference, %w", err)
		}
		state, err := session.Read("the session", []byte(m.Get("session").String()))
		if err != nil {
			return nil, nil, err
		}
		sheet, _ := state.TestSheets()
		found, ok := target.Find(s, flatbed.Locate(s, sheet))
		for _, c := range found.Corners {
			if ok {
				corners = append(corners, c[0], c[1])
			}
		}
		sure = found.Sure
	}
	img, each := flatbed.Preview(s, flatbedSide)
	px := bytesTo(img.Pix)
	return map[string]any{"w": img.Rect.Dx(), "h": img.Rect.Dy(), "rgba": px, "each": each, "corners": corners, "sure": sure}, []any{px.Get("buffer")}, nil
}
