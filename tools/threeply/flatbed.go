package main

import (
	"context"
	"flag"
	"fmt"
	"strconv"
	"strings"

	"threeply/proof/fit"
	"threeply/proof/flatbed"
	"threeply/proof/scan"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
	"threeply/tools/files"
)

// flatbedFlags name a scan of a test sheet and the target on it.
type flatbedFlags struct{ scan, turned, target, at, encoding *string }

func addFlatbed(f *flag.FlagSet) flatbedFlags {
	return flatbedFlags{
		f.String("scan", "", "a 16-bit scan of the sheet with a colour target on it, instead of readings"),
		f.String("scan-turned", "", "a second scan of the same, with the sheet turned by a quarter or by half: both are averaged, and tell what the scanner makes uneven"),
		f.String("target", "", "the target's reference values, CGATS text with spectra, Lab or XYZ; patches are named A1, A2 …"),
		f.String("target-at", "", "where the target lies, if it is not found, in pixels of the scan: the middles of its patch A1, of the last one of row A, and of the last of all, as X,Y,X,Y,X,Y"),
		f.String("scan-encoding", "", "how the codes of the scan are read, if not as its file says: linear, sRGB or such as “gamma 2.2”"),
	}
}

func (f flatbedFlags) given() bool { return *f.scan != "" }

func (f flatbedFlags) files() (out []string) {
	for _, name := range []string{*f.scan, *f.turned, *f.target} {
		if name != "" {
			out = append(out, name)
		}
	}
	return out
}

func (f flatbedFlags) check(args int) error {
	switch {
	case !f.given() && (*f.turned != "" || *f.target != "" || *f.at != "" || *f.encoding != ""):
		return usageError("-scan-turned, -target, -target-at and -scan-encoding go with -scan")
	case !f.given() && args == 0:
		return usageError("no readings are named")
	case f.given() && *f.target == "":
		return usageError("-scan needs a colour target on the same scan, and its reference values as -target; without one no scanner is known")
	}
	return nil
}

// fit finds the tissues from the scan.
func (f flatbedFlags) fit(job *files.Job, sheet testsheet.Sheet, r stack.Recipe) (*fit.Result, error) {
	text, err := job.Read(*f.target)
	if err != nil {
		return nil, err
	}
	target, err := flatbed.ReadTarget(text)
	if err != nil {
		return nil, fmt.Errorf("%s, %w", *f.target, err)
	}
	parts := strings.FieldsFunc(*f.at, func(r rune) bool { return r == ',' || r == ' ' })
	if len(parts) != 6 && *f.at != "" {
		return nil, usageError("-target-at takes six numbers, X,Y,X,Y,X,Y")
	}
	for i, part := range parts {
		if target.Corners[i/2][i%2], err = strconv.ParseFloat(part, 64); err != nil {
			return nil, usageError(fmt.Sprintf("-target-at: “%.20s” is no number", part))
		}
	}
	var scans []*scan.Scan
	for _, name := range []string{*f.scan, *f.turned} {
		if name == "" {
			continue
		}
		data, err := job.Read(name)
		if err != nil {
			return nil, err
		}
		s, err := scan.DecodeFrom(name, scan.Bytes(data), scan.Options{Encoding: *f.encoding})
		if err != nil {
			return nil, err
		}
		scans = append(scans, s)
	}
	readings, _, err := flatbed.Read(scans, target, sheet, r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", *f.scan, err)
	}
	return fit.Of(context.Background(), fit.Job{Sheet: sheet, Readings: readings, Recipe: r})
}
