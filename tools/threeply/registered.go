package main

import (
	"encoding/csv"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"

	"golang.org/x/image/tiff"

	"threeply/proof/plane"
	"threeply/proof/plate"
	registration "threeply/proof/register"
)

// writeRegistered puts the three plates, as the key sees them, and the maps
// into a folder. A plate that is not in register is an error: a picture that
// only looks registered must not leave the tool unmarked.
func writeRegistered(dir string, planes [3]*plane.Plane, found [3]registration.Plate, k int, say io.Writer) error {
	for i, p := range found {
		if p.Confidence < 0.3 {
			return fmt.Errorf("the %s plate is not in register, so nothing is written to %s. %s", plate.Filter(i), dir, p.Words)
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	transmittance := make([]uint16, 65536)
	for code := range transmittance {
		transmittance[code] = uint16(math.Round(65535 * math.Pow(10, -plate.ToDensity(uint16(code)))))
	}
	key := planes[k]
	for i, p := range planes {
		q := registration.Resample(p, found[i].Matrix, key.W, key.H, math.MaxUint16)
		img := image.NewGray16(image.Rect(0, 0, q.W, q.H))
		for j, code := range q.Pix {
			v := transmittance[code]
			img.Pix[2*j], img.Pix[2*j+1] = byte(v>>8), byte(v)
		}
		name := filepath.Join(dir, plate.Filter(i).String()+".tif")
		if err := writeFile(name, func(w io.Writer) error {
			return tiff.Encode(w, img, &tiff.Options{Compression: tiff.Deflate, Predictor: true})
		}); err != nil {
			return err
		}
		fmt.Fprintf(say, "wrote %s\n", name)
	}
	name := filepath.Join(dir, "register.csv")
	if err := writeFile(name, func(w io.Writer) error { return writeMaps(w, found) }); err != nil {
		return err
	}
	fmt.Fprintf(say, "wrote %s\n", name)
	return nil
}

// writeMaps writes one row a plate: the map from the key's pixel to its own.
func writeMaps(w io.Writer, found [3]registration.Plate) error {
	rows := [][]string{{"plate", "a11", "a12", "a13", "a21", "a22", "a23", "confidence", "residual_median_px", "residual_p95_px", "residual_max_px"}}
	number := func(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }
	for i, p := range found {
		row := []string{plate.Filter(i).String()}
		for _, v := range p.Matrix {
			row = append(row, number(v, 8))
		}
		rows = append(rows, append(row, number(p.Confidence, 3), number(p.Residual.Median, 3), number(p.Residual.P95, 3), number(p.Residual.Max, 3)))
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// writeFile writes a file whole or not at all: what is there keeps its bytes
// until the new ones are complete.
func writeFile(name string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".part-*")
	if err != nil {
		return err
	}
	err = write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}
