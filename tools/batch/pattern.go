package batch

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// Placeholders of a pattern.
const (
	SetPlace   = "{set}"
	PlatePlace = "{plate}"
)

// plateNames are what can stand for a plate in a file's name.
var plateNames = map[string]string{
	"red": Red, "r": Red, "green": Green, "g": Green, "blue": Blue, "b": Blue,
}

// Find lists the sets whose files fit a pattern, such as scans/{set}_{plate}.tif, by their
// names. {set} stands for any text within a name, {plate} for red, green, blue or the
// first letters of these; a pattern without {plate} is of files that hold all three plates.
// A set that lacks a plate comes with a Fault. Folders that a batch has made are passed over,
// for the plates in them are no scans.
func Find(pattern string) ([]Set, error) {
	folder, rest := filepath.Split(filepath.ToSlash(pattern))
	for strings.Contains(folder, "{") { // sets that have folders
		folder = strings.TrimSuffix(folder, "/")
		up, last := filepath.Split(folder)
		folder, rest = up, last+"/"+rest
	}
	if folder == "" {
		folder = "."
	}
	fits, err := expression(rest)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", pattern, err)
	}
	depth := strings.Count(rest, "/")
	plates := map[string]map[string]found{}
	err = walk(folder, "", depth, func(path, within string) error {
		m := fits.FindStringSubmatch(within)
		if m == nil {
			return nil
		}
		name, plate := m[fits.SubexpIndex("set")], File
		if i := fits.SubexpIndex("plate"); i >= 0 {
			plate = plateNames[strings.ToLower(m[i])]
		}
		if plates[name] == nil {
			plates[name] = map[string]found{}
		}
		if other := plates[name][plate]; other.path != "" {
			return fmt.Errorf("%s and %s both fit as the %s plate of the set “%s”; make the pattern narrower", other.path, path, plate, name)
		}
		plates[name][plate] = found{path, within}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if len(plates) == 0 {
		return nil, fmt.Errorf("%s: no file fits this pattern; check the folder and the ending", pattern)
	}
	seen := newNames()
	var out []Set
	for _, name := range slices.Sorted(maps.Keys(plates)) {
		s := Set{Name: name, Says: map[string]string{}}
		if whole := plates[name][File]; whole.path != "" {
			s.Files, s.Named = []string{whole.path}, []string{whole.within}
		} else {
			for _, plate := range []string{Red, Green, Blue} {
				if file := plates[name][plate]; file.path != "" {
					s.Files, s.Named = append(s.Files, file.path), append(s.Named, file.within)
				} else {
					s.Fault = fmt.Sprintf("no file fits as its %s plate", plate)
				}
			}
		}
		seen.check(&s)
		out = append(out, s)
	}
	return out, nil
}

// walk calls take with each file of a folder and of the folders in it, so deep, in the order of
// names: with its path, and with that from the first folder on. Links are followed, for a set's
// folder may lie on another disc. Folders that a batch has made are passed over.
func walk(folder, within string, depth int, take func(path, within string) error) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		at, name := filepath.Join(folder, entry.Name()), path.Join(within, entry.Name())
		isFolder := entry.IsDir()
		if entry.Type()&fs.ModeSymlink != 0 {
			info, err := os.Stat(at)
			isFolder = err == nil && info.IsDir()
		}
		switch {
		case !isFolder:
			err = take(at, name)
		case depth > 0 && !ofBatch(at):
			err = walk(at, name, depth-1, take)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// found is a file that fits a pattern: where it lies, and from the pattern's folder on.
type found struct{ path, within string }

// expression is a pattern as a regular expression.
func expression(pattern string) (*regexp.Regexp, error) {
	if strings.Count(pattern, SetPlace) != 1 || strings.Count(pattern, PlatePlace) > 1 {
		return nil, fmt.Errorf("a pattern holds %s once, and %s once where each plate has a file", SetPlace, PlatePlace)
	}
	text := regexp.QuoteMeta(pattern)
	text = strings.Replace(text, regexp.QuoteMeta(SetPlace), `(?P<set>[^/]+)`, 1)
	text = strings.Replace(text, regexp.QuoteMeta(PlatePlace), `(?P<plate>(?i:red|green|blue|r|g|b))`, 1)
	return regexp.Compile("^" + text + "$")
}
