// Command demo makes the demo set: three scans of separation negatives of a
// scene that is rendered spectrally, and the truth about them.
//
//	go run ./tools/demo -o DIR [-size 1760] [-samples 8] [-seed N] [-png FILE]
//
// DIR gets winter-table_red.tif, _green.tif and _blue.tif, which are linear
// 16-bit grey scans of negatives, and truth.json: the matrices that take a
// pixel of the green plate to the other plates, the films, and where the steps
// of the grey scale lie and how dense they are. The same options give the same
// bytes on every run on one kind of processor.
//
// How it is made, file by file: spectra and materials say what things look
// like, scene where they stand; lathe, field, cloth and shape are the solids;
// trace follows the light, camera gathers it; film and damage make plates of
// it; the tool's own package sheet writes them.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"

	"threeply/proof/sheet"
)

func main() {
	dir := flag.String("o", "", "folder to write the set to; made if missing")
	size := flag.Int("size", defaultSize, "long side of the scans in pixels, 160 to 8000")
	samples := flag.Int("samples", defaultSamples, "most rays a pixel, 1 to 4096: more is smoother and slower")
	seed := flag.Uint64("seed", 1931, "seed of noise, grain and damage")
	picture := flag.String("png", "", "also write the picture in colour to this file")
	flag.Parse()
	if flag.NArg() > 0 || *dir == "" && *picture == "" || *size < 160 || *size > 8000 || *samples < 1 || *samples > 4096 {
		fmt.Fprintln(os.Stderr, "demo: say where to write with -o DIR or -png FILE; sizes and samples within the limits below")
		flag.Usage()
		os.Exit(2)
	}
	set := makeSet(*size, *samples, *seed)
	if err := set.write(*dir, *picture); err != nil {
		fmt.Fprintln(os.Stderr, "demo:", err)
		os.Exit(1)
	}
}

// write puts the set into dir and the colour picture into the file picture;
// an empty name leaves the one or the other out.
func (s *demoSet) write(dir, picture string) error {
	if picture != "" {
		var b bytes.Buffer
		if err := png.Encode(&b, s.preview()); err != nil {
			return err
		}
		if err := writeNew(picture, b.Bytes()); err != nil {
			return err
		}
	}
	if dir == "" {
		return nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for k, name := range plateNames {
		var b bytes.Buffer
		text := "Winter table, " + name + " filter negative"
		picture := sheet.TIFF{
			W: s.w, H: s.h, Samples: 1, PPI: s.truth.Resolution, Description: text,
			Row: func(y int, row []uint16) { copy(row, s.scans[k][y*s.w:]) },
		}
		if err := picture.Write(&b); err != nil {
			return err
		}
		if err := writeNew(filepath.Join(dir, s.truth.Plates[name].File), b.Bytes()); err != nil {
			return err
		}
	}
	text, err := json.MarshalIndent(s.truth, "", "  ")
	if err != nil {
		return err
	}
	return writeNew(filepath.Join(dir, "truth.json"), append(text, '\n'))
}

// writeNew writes a file that is not there yet.
func writeNew(name string, content []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already, and was left as it is; name another place, or remove it", name)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return errors.Join(err, f.Close())
}
