package main

import (
	"errors"
	"flag"
	"fmt"
	"strings"

	"threeply/proof/filter"
	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/tools/files"
)

const layoutHelp = "how the plates lie in the files: separate (red, green, blue file), tall-bgr or another order of the three exposures from the top, channels (of one colour file), pages (of one TIFF); guessed if left out"

// openPlates reads the plates of a command line from the named files.
func openPlates(in *files.Job, opening openOptions, names []string) (*plate.Set, error) {
	layout := *opening.layout
	opt, err := layoutOptions(layout)
	if err != nil {
		return nil, err
	}
	encodings, err := opening.encodings()
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, usageError("no file is named: name the red, the green and the blue plate, or one file that holds all three")
	}
	if want := map[plate.Layout]int{plate.Separate: 3, plate.Tall: 1, plate.Channels: 1, plate.Pages: 1}[opt.Layout]; want != 0 && len(names) != want {
		return nil, usageError(fmt.Sprintf("-layout %s takes %d file(s), not %d", layout, want, len(names)))
	}
	if opt.Layout == "" && len(names) != 1 && len(names) != 3 {
		return nil, usageError(fmt.Sprintf("a set is three files, red, green and blue, or one that holds all three; %d are named", len(names)))
	}
	if len(names) == 1 && encodings[1] != encodings[0] {
		return nil, usageError("-encoding gives three, but one file is named")
	}
	var scans []plate.File
	for i, name := range names {
		data, err := in.Read(name)
		if err != nil {
			return nil, err
		}
		scans = append(scans, plate.File{Name: name, Data: scan.Bytes(data), Encoding: encodings[i]})
	}
	set, err := plate.Open(scans, opt, nil)
	if refused, ok := errors.AsType[*scan.Error](err); ok && refused.Layout {
		return nil, fmt.Errorf("%w (-layout tall-bgr, or another order of the exposures from the top)", err)
	}
	if err != nil {
		return nil, err
	}
	return set, nil
}

// asGiven takes separate files as the red, the green and the blue plate, in the order
// in which they are named on the command line. Its notes say where a file's own name
// speaks against that, and where the set mixes negatives and positives.
func asGiven(set *plate.Set) (notes []string) {
	if set.Layout == plate.Separate {
		for _, f := range filter.All {
			if by := set.Assign[f]; !set.Unnamed && by != int(f) {
				notes = append(notes, fmt.Sprintf("%s is given as the %s plate, but its name says %s: files are named in the order red, green, blue.",
					set.Sources[by].Name, filter.Filter(by), f))
			}
		}
		set.Assign = [3]int{0, 1, 2}
	}
	if set.Split {
		var kinds []string
		for _, f := range filter.All {
			source, _ := set.Plate(f)
			kinds = append(kinds, fmt.Sprintf("the %s plate a %s", f, source.Polarity))
		}
		notes = append(notes, "Negatives and positives seem to be mixed: "+strings.Join(kinds, ", ")+".")
	}
	return notes
}

// openOptions are the options by which a command says how its scans are to be
// read.
type openOptions struct{ layout, encoding *string }

// addOpening gives a command these options.
func addOpening(f *flag.FlagSet) openOptions {
	return openOptions{
		layout:   f.String("layout", "", layoutHelp),
		encoding: f.String("encoding", "", "how the codes of the scans stand for light: linear, sRGB, or gamma with its exponent, such as \"gamma 2.2\"; one for all, or three with commas between; as the files say, or guessed, if left out"),
	}
}

// encodings are those of the three files, in their order; "" where a file is to say it.
func (o openOptions) encodings() (out [3]string, err error) {
	parts := strings.Split(*o.encoding, ",")
	if len(parts) != 1 && len(parts) != 3 {
		return out, usageError(fmt.Sprintf("-encoding %q: give one for all files, or three with commas between", *o.encoding))
	}
	for i := range out {
		out[i] = strings.TrimSpace(parts[i%len(parts)])
	}
	return out, nil
}

// addKey gives a command the option that names the key. use says what the key is for.
func addKey(f *flag.FlagSet, use string) *string {
	return f.String("key", "green", use+": red, green or blue")
}

// checkKey refuses a key that is no plate.
func checkKey(name string) error {
	if _, ok := filter.Named(name); !ok {
		return usageError(fmt.Sprintf("no plate “%s”: the key is red, green or blue", name))
	}
	return nil
}

// plateTitle is the plate of a filter as a report begins with it, such as “Red plate”.
func plateTitle(f filter.Filter) string {
	name := f.String()
	return strings.ToUpper(name[:1]) + name[1:] + " plate"
}

// layoutOptions reads -layout.
func layoutOptions(layout string) (plate.Options, error) {
	switch {
	case layout == "":
		return plate.Options{}, nil
	case layout == "separate":
		return plate.Options{Layout: plate.Separate}, nil
	case layout == "pages":
		return plate.Options{Layout: plate.Pages}, nil
	case layout == "channels":
		return plate.Options{Layout: plate.Channels}, nil
	case strings.HasPrefix(layout, "tall-") && len(layout) == len("tall-bgr"):
		order := strings.TrimPrefix(layout, "tall-")
		if strings.Contains(order, "r") && strings.Contains(order, "g") && strings.Contains(order, "b") {
			return plate.Options{Layout: plate.Tall, Order: order}, nil
		}
	}
	return plate.Options{}, usageError(fmt.Sprintf("no layout “%s”: there are separate, channels, pages, and tall- with an order such as tall-bgr", layout))
}
