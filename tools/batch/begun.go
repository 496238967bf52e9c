package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"threeply/proof/label"
	"threeply/proof/scan"
	"threeply/tools/files"
)

// BegunName is the file of a batch's folder that says when it was begun.
const BegunName = "batch.json"

// Begun is what the files of a batch carry as tool and time: the time that is asked for
// (RFC 3339), else that of the batch's beginning, which its folder remembers, else now. What is
// asked for the folder remembers too, in place of an earlier time only where overwrite says so.
func Begun(folder, asked string, overwrite bool, now time.Time) (label.Made, error) {
	made := label.Made{Tool: label.Tool()}
	name := filepath.Join(folder, BegunName)
	if asked != "" {
		at, err := time.Parse(time.RFC3339, asked)
		if err != nil {
			return made, fmt.Errorf("-at %s: it is no time such as 2026-03-02T10:20:00Z", asked)
		}
		made.At = at
		return made, remember(name, at, overwrite)
	}
	var kept begun
	for range 2 { // another shard may write it at this moment
		text, err := os.ReadFile(name)
		if err == nil {
			if json.Unmarshal(text, &kept) != nil || kept.Begun.IsZero() {
				return made, &scan.Error{File: name, Reason: "it does not say when the batch was begun", Remedy: "Remove it, and the sets are made anew; or give the time by -at."}
			}
			made.At = kept.Begun
			return made, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return made, err
		}
		if err := remember(name, now.UTC().Truncate(time.Second), false); err != nil {
			return made, err
		}
	}
	return made, fmt.Errorf("%s: it comes and goes; give the time by -at", name)
}

// begun is what the file called BegunName holds.
type begun struct {
	Tool  string    `json:"tool"` // with its version
	Begun time.Time `json:"begun"`
}

// remember writes down when a batch was begun. Where that is written already, it stays, but where
// overwrite says otherwise.
func remember(name string, at time.Time, overwrite bool) error {
	text, err := json.Marshal(begun{label.Tool(), at})
	if err != nil {
		return err
	}
	err = (&files.Job{Overwrite: overwrite}).Write(files.Out{Name: name, Content: files.Bytes(append(text, '\n'))})
	if _, there := os.Stat(name); there == nil && !overwrite {
		return nil
	}
	return err
}
