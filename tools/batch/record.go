package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
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
		if info, err := os.Stat(name); err == nil && info.Mode()&fs.ModeNamedPipe != 0 { // which may never have something to say
			return "", &scan.Error{File: name, Reason: "it is no ordinary file", Remedy: "Name another one."}
		}
		f, err := (&files.Job{}).Open(name)
		if err != nil {
			return "", err
		}
		content := sha256.New()
		_, err = io.Copy(content, f)
		f.Close()
		if err != nil {
			return "", &scan.Error{File: name, Reason: fmt.Sprintf("it cannot be read (%v)", err), Remedy: "Check the disc that it lies on, or copy it again."}
		}
		fmt.Fprintf(h, "%x\n", content.Sum(nil))
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Finished reads the record of a set in the folder of a batch; ok is false where it is not
// there, damaged, not of this digest, or a file that it names is missing, and where another run
// works on the set or was ended while it did: then Make tells.
func Finished(out, name, digest string) (r Record, ok bool) {
	if _, err := os.Lstat(filepath.Join(out, locked+name)); err == nil {
		return Record{}, false
	}
	return finished(filepath.Join(out, name), digest)
}

func finished(folder, digest string) (r Record, ok bool) {
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
