package main

import (
	"errors"
	"fmt"
	"strings"

	"threeply/proof/plate"
	"threeply/proof/scan"
	"threeply/tools/files"
)

const layoutHelp = "how the plates lie in the files: separate (red, green, blue file), tall-bgr or another order of the three exposures from the top, channels (of one colour file); guessed if left out"

// openPlates reads the plates of a command line. With separate files the
// command's own order, red, green, blue, holds whatever the names say.
func openPlates(in *files.Job, layout string, names []string) (*plate.Set, error) {
	opt, err := layoutOptions(layout)
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, usageError("no file is named")
	}
	if want := map[plate.Layout]int{plate.Separate: 3, plate.Tall: 1, plate.Channels: 1}[opt.Layout]; want != 0 && len(names) != want {
		return nil, usageError(fmt.Sprintf("-layout %s takes %d file(s), not %d", layout, want, len(names)))
	}
	if opt.Layout == "" && len(names) != 1 && len(names) != 3 {
		return nil, usageError(fmt.Sprintf("a set is three files, red, green and blue, or one that holds all three; %d are named", len(names)))
	}
	var scans []plate.File
	for _, name := range names {
		data, err := in.Read(name)
		if err != nil {
			return nil, err
		}
		scans = append(scans, plate.File{Name: name, Data: scan.Bytes(data)})
	}
	set, err := plate.Open(scans, opt, nil)
	if refused, ok := errors.AsType[*scan.Error](err); ok && refused.Layout {
		return nil, fmt.Errorf("%w (-layout tall-bgr, or another order of the exposures from the top)", err)
	}
	if err != nil {
		return nil, err
	}
	if set.Layout == plate.Separate {
		set.Assign = [3]int{0, 1, 2}
	}
	return set, nil
}

func layoutOptions(layout string) (plate.Options, error) {
	switch {
	case layout == "":
		return plate.Options{}, nil
	case layout == "separate":
		return plate.Options{Layout: plate.Separate}, nil
	case layout == "channels":
		return plate.Options{Layout: plate.Channels}, nil
	case strings.HasPrefix(layout, "tall-") && len(layout) == len("tall-bgr"):
		order := strings.TrimPrefix(layout, "tall-")
		if strings.Contains(order, "r") && strings.Contains(order, "g") && strings.Contains(order, "b") {
			return plate.Options{Layout: plate.Tall, Order: order}, nil
		}
	}
	return plate.Options{}, usageError(fmt.Sprintf("no layout “%s”: there are separate, channels, and tall- with an order such as tall-bgr", layout))
}
