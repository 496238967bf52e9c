package batch

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"threeply/proof/scan"
)

// Outputs are the names of a shard's report and contact sheet in a folder.
func (s Shard) Outputs(folder string) []string {
	return []string{filepath.Join(folder, s.Report()), filepath.Join(folder, s.Contact())}
}

// MayReplace says why a shard's report and contact sheet cannot be written into a folder: a
// file of such a name lies there that no batch has written. It is nil where they can.
func (s Shard) MayReplace(folder string) error {
	marks := []string{reportHeads[0], contactTitle}
	for i, name := range s.Outputs(folder) {
		f, err := os.Open(name)
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) { // the folder's own error comes with the writing
			continue
		}
		if err != nil {
			return err
		}
		head, err := io.ReadAll(io.LimitReader(f, 1024))
		f.Close()
		if err != nil {
			return err
		}
		if !bytes.Contains(head, []byte(marks[i])) {
			return &scan.Error{File: name, Reason: "it is there already, was not written by a batch, and was left as it is", Remedy: "Move it elsewhere, or name another folder after -o."}
		}
	}
	return nil
}
