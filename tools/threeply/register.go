package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"strings"

	"threeply/proof/affine"
	"threeply/proof/plane"
	"threeply/proof/plate"
	registration "threeply/proof/register"
)

// register finds where the plates lie against the key.
func register(args []string, out io.Writer) error {
	f := flag.NewFlagSet("register", flag.ContinueOnError)
	layout := f.String("layout", "", layoutHelp)
	key := f.String("key", "green", "the plate that the others are registered to: red, green or blue")
	asJSON := f.Bool("json", false, "write JSON in place of text")
	dir := f.String("o", "", "folder for the registered plates red.tif, green.tif, blue.tif (16-bit grey, linear transmittance), the picture they make, reference.tif (16-bit sRGB), matrices.csv and verdict.csv")
	local := f.Bool("local", false, "with -o: add the local register, a smooth displacement as of unevenly shrunken film, where it leaves less at places that it had not seen")
	f.Usage = func() {
		fmt.Fprint(f.Output(), `Usage: threeply register [options] FILE...

Finds, for each plate, the map from the key's pixels to its own: dx, dy, turn
and stretch about the picture's centre, how far to believe it, and what is left
over. Files: the red, green and blue plate, or one tall or colour file.

In the JSON a matrix is [a11, a12, a13, a21, a22, a23]; it takes the key's pixel
(x, y), centres at whole numbers, to the plate's.

`)
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	k := -1
	for i := range 3 {
		if plate.Filter(i).String() == *key {
			k = i
		}
	}
	if k < 0 {
		return usageError(fmt.Sprintf("no plate “%s”: the key is red, green or blue", *key))
	}
	set, err := openPlates(*layout, f.Args())
	if err != nil {
		return err
	}
	var planes [3]*plane.Plane
	opt := registration.Options{Key: k}
	for i := range 3 {
		source, p := set.Plate(plate.Filter(i))
		planes[i] = p
		opt.Polarity[i] = source.Polarity == "negative"
		opt.Area[i] = source.Area
	}
	if *local && *dir == "" {
		return usageError("-local says how the registered plates are drawn, so it needs -o FOLDER")
	}
	found, better, err := registration.PlanesAndKey(context.Background(), planes, opt, [3]string{"red", "green", "blue"})
	if err != nil {
		return err
	}
	if *dir != "" {
		say := out
		if *asJSON {
			say = io.Discard
		}
		if err := writeRegistered(*dir, set, found, k, *local, say); err != nil {
			return err
		}
	}
	if *asJSON {
		return writeRegisterJSON(out, planes[k], found, k)
	}
	writeRegisterText(out, planes[k], found, k)
	fmt.Fprintf(out, "\nKey: %s\n", better.Why)
	return nil
}

// registered is one plate in the JSON of register.
type registered struct {
	Matrix     affine.Matrix `json:"matrix"`
	Confidence float64       `json:"confidence"`
	Residual   residual      `json:"residual_px"`
	Words      string        `json:"words"`
}

// residual has nulls where nothing was measured.
type residual struct {
	Median *float64 `json:"median"`
	P95    *float64 `json:"p95"`
	Max    *float64 `json:"max"`
}

func residualOf(p registration.Plate) residual {
	if len(p.Field) == 0 {
		return residual{}
	}
	return residual{&p.Residual.Median, &p.Residual.P95, &p.Residual.Max}
}

func writeRegisterJSON(out io.Writer, key *plane.Plane, found [3]registration.Plate, k int) error {
	plates := map[string]registered{}
	for i, p := range found {
		if i != k {
			plates[plate.Filter(i).String()] = registered{p.Matrix, p.Confidence, residualOf(p), p.Words}
		}
	}
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		Key    string                `json:"key"`
		Width  int                   `json:"width"`
		Height int                   `json:"height"`
		Plates map[string]registered `json:"plates"`
	}{plate.Filter(k).String(), key.W, key.H, plates})
}

func writeRegisterText(out io.Writer, key *plane.Plane, found [3]registration.Plate, k int) {
	fmt.Fprintf(out, "Registered to the %s plate, %d × %d pixels.\n", plate.Filter(k), key.W, key.H)
	for i, p := range found {
		if i == k {
			continue
		}
		name := plate.Filter(i).String()
		parts := p.Matrix.Decompose(float64(key.W-1)/2, float64(key.H-1)/2)
		fmt.Fprintf(out, "\n%s plate: %s\n", strings.ToUpper(name[:1])+name[1:], p.Words)
		fmt.Fprintf(out, "  confidence  %.0f %%\n", 100*p.Confidence)
		fmt.Fprintf(out, "  centre      dx %+.2f, dy %+.2f px\n", parts.DX, parts.DY)
		fmt.Fprintf(out, "  turn        %+.3f° clockwise\n", parts.Turn)
		fmt.Fprintf(out, "  stretch     %+.3f %% across, %+.3f %% down\n", 100*(parts.StretchX-1), 100*(parts.StretchY-1))
		if len(p.Field) == 0 {
			fmt.Fprintln(out, "  left over   not known")
			continue
		}
		fmt.Fprintf(out, "  left over   median %.2f, 95th percentile %.2f, largest %.2f px\n", p.Residual.Median, p.Residual.P95, p.Residual.Max)
	}
}
