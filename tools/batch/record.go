package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"threeply/proof/scan"
	"threeply/tools/files"
)

// RecordName is the file of a set's folder that says how it was made.
const RecordName = "record.json"

// Unfinished begins the name of the folder that a set is made in.
const Unfinished = ".unfinished-"

// Record says of a finished set what it was made from and what came of it.
type Record struct {
	Digest  string  `json:"digest"` // of all that it was made from
	Files   []Made  `json:"files"`
	Figures Figures `json:"figures"`
}

// Made is a file of a set's folder.
type Made struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
}

// Digest is the SHA-256 of what a set is made from: the options, whatever they are, and the
// content of files. It changes where anything of it does.
func Digest(options any, names ...string) (string, error) {
	h := sha256.New()
	if err := json.NewEncoder(h).Encode(options); err != nil {
		return "", err
	}
	for _, name := range names {
		f, err := os.Open(name)
		if errors.Is(err, fs.ErrNotExist) {
			return "", &scan.Error{File: name, Reason: "there is no such file", Remedy: "Check its name and its folder."}
		}
		if err != nil {
			return "", err
		}
		content := sha256.New()
		_, err = io.Copy(content, f)
		f.Close()
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%x\n", content.Sum(nil))
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Finished reads the record of a set's folder; ok is false where it is not there, damaged,
// not of this digest, or a file that it names is missing.
func Finished(folder, digest string) (r Record, ok bool) {
	r, ok = recordOf(folder)
	if !ok || r.Digest != digest {
		return Record{}, false
	}
	for _, made := range r.Files {
		if info, err := os.Stat(filepath.Join(folder, made.Name)); err != nil || info.Size() != made.Size {
			return Record{}, false
		}
	}
	return r, true
}

func recordOf(folder string) (r Record, ok bool) {
	text, err := os.ReadFile(filepath.Join(folder, RecordName))
	if err != nil || json.Unmarshal(text, &r) != nil || r.Figures.Why < Failed || r.Figures.Why > Fine {
		return Record{}, false
	}
	return r, true
}

// ofBatch tells whether a batch has made a folder, or had begun to.
func ofBatch(folder string) bool {
	_, made := recordOf(folder)
	return made || strings.HasPrefix(filepath.Base(folder), Unfinished)
}

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
// gives the figures. What an earlier run left unfinished is removed. A folder that is there
// already stays as it is and is an error, but where overwrite says so and a batch made all
// that is in it.
func Make(out, name, digest string, overwrite bool, work func(folder string) (Figures, error)) (Record, error) {
	folder, making := filepath.Join(out, name), filepath.Join(out, Unfinished+name)
	if _, err := os.Lstat(folder); err == nil {
		if err := mayReplace(folder, overwrite); err != nil {
			return Record{}, err
		}
	}
	if err := os.RemoveAll(making); err != nil {
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
	if err := os.RemoveAll(folder); err != nil { // asked for, see above
		return Record{}, err
	}
	return r, os.Rename(making, folder)
}
