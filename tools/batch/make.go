package batch

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"threeply/proof/scan"
	"threeply/tools/files"
)

// replacing begins the name of the folder that a set had which is made anew, for the moment
// in which the new one takes its place; locked that of the file that keeps two runs from making
// a set at once.
const (
	replacing = ".replaced-"
	locked    = ".locked-"
)

// mayReplace says why a set's folder that is there already must stay as it is; nil where a
// batch made all that is in it and the user asked to have it made anew.
func mayReplace(folder string, overwrite bool) error {
	r, ok := recordOf(folder)
	if !ok || !overwrite {
		return &scan.Error{File: folder, Reason: "it is there already, made of other scans, in another way or not by a batch, and was left as it is", Remedy: "Name another folder after -o, or add -overwrite to make anew what a batch has made."}
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if name := entry.Name(); name != RecordName && !slices.ContainsFunc(r.Files, func(made Made) bool { return made.Name == name }) {
			return &scan.Error{File: filepath.Join(folder, name), Reason: "no batch has made it, so its folder was left as it is", Remedy: "Move it elsewhere, or name another folder after -o."}
		}
	}
	return nil
}

// Make makes the folder of a set: work puts files into the folder that it is given, and
// gives the figures. What an earlier run left unfinished is removed; where another run makes
// the set at this moment, Make calls waits, waits for its end, and takes what it has made if that
// is of this digest; before then says so. A folder that is there already stays as it is and is an
// error, but where overwrite says so and a batch made all that is in it.
func Make(out, name, digest string, overwrite bool, waits func(), work func(folder string) (Figures, error)) (r Record, before bool, err error) {
	folder, making, replaced := filepath.Join(out, name), filepath.Join(out, Unfinished+name), filepath.Join(out, replacing+name)
	unlock, err := files.Lock(filepath.Join(out, locked+name), waits)
	if err != nil {
		return Record{}, false, err
	}
	defer unlock()
	if r, ok := finished(folder, digest); ok {
		return r, true, errors.Join(os.RemoveAll(making), os.RemoveAll(replaced)) // of a run that was ended
	}
	r, err = makeAlone(folder, making, replaced, digest, overwrite, work)
	return r, false, err
}

func makeAlone(folder, making, replaced, digest string, overwrite bool, work func(folder string) (Figures, error)) (Record, error) {
	if _, err := os.Lstat(folder); err == nil {
		if err := mayReplace(folder, overwrite); err != nil {
			return Record{}, err
		}
	}
	if err := errors.Join(os.RemoveAll(making), os.RemoveAll(replaced)); err != nil {
		return Record{}, err
	}
	if err := files.MakeFolder(making); err != nil {
		return Record{}, err
	}
	figures, err := work(making)
	if err != nil {
		return Record{}, errors.Join(err, os.RemoveAll(making))
	}
	r := Record{Digest: digest, Figures: figures}
	entries, err := os.ReadDir(making)
	if err != nil {
		return Record{}, err
	}
	for _, entry := range entries {
		info, err := entry.Info()
		if err != nil {
			return Record{}, err
		}
		r.Files = append(r.Files, Made{entry.Name(), info.Size()})
	}
	text, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return Record{}, err
	}
	if err := (&files.Job{}).Write(files.Out{Name: filepath.Join(making, RecordName), Content: files.Bytes(append(text, '\n'))}); err != nil {
		return Record{}, err
	}
	if err := os.Rename(folder, replaced); err != nil && !errors.Is(err, fs.ErrNotExist) { // asked for, see above
		return Record{}, err
	}
	if err := os.Rename(making, folder); err != nil {
		return Record{}, err
	}
	return r, os.RemoveAll(replaced)
}
