package scan

import (
	"fmt"
	"math"
	"slices"
)

// maxPictures bounds how far a chain of directories is followed.
const maxPictures = 100

// Pages are the pictures of a file, their sizes in pixels as they are stored, without
// reduced copies; one of a file that holds one picture, none of a file that cannot be read.
// Of files other than TIFF nothing is said of the size.
func Pages(data Data) []PageSize {
	head, refusal := part(data, 0, min(data.Size(), headBytes))
	if refusal != nil {
		return nil
	}
	if kind, refusal := sniff(head); refusal != nil || kind != TIFF {
		return []PageSize{{}}
	}
	all, refusal := pictures(data)
	if refusal != nil {
		return nil
	}
	var out []PageSize
	for _, d := range all {
		w, h := d.size()
		out = append(out, PageSize{w, h})
	}
	return out
}

// PageSize is the size of a page, in pixels.
type PageSize struct{ W, H int }

// pictures are the directories of a TIFF's full pictures, in their order (TIFF 6.0, page
// 14). Where all in the chain are reduced copies, the sub-directories of the first are
// looked at, where some writers put the full picture; where there is none either, the
// first reduced one stands for it. Small copies that are not marked as such are left out too.
// A damaged chain, or one that runs back, ends there.
func pictures(data Data) ([]directory, *Error) {
	h, refusal := readHeader(data)
	if refusal != nil {
		return nil, refusal
	}
	first, refusal := readDirectory(data, h, h.first)
	if refusal != nil {
		return nil, refusal
	}
	full := []directory{}
	seen := map[int64]bool{}
	for d, at := first, h.first; !seen[at] && len(seen) < maxPictures; {
		seen[at] = true
		if !d.reduced() {
			full = append(full, d)
		}
		if at = d.next; at == 0 || seen[at] {
			break
		}
		if d, refusal = readDirectory(data, h, at); refusal != nil {
			break
		}
	}
	for i := range min(first.count(tagSubDirectories), maxPictures) {
		if len(full) > 0 {
			break
		}
		if d, refusal := readDirectory(data, h, int64(first.value(tagSubDirectories, i, 0))); refusal == nil && !d.reduced() {
			full = append(full, d)
		}
	}
	if len(full) == 0 {
		full = append(full, first)
	}
	return withoutCopies(full), nil
}

// withoutCopies leaves out the pictures that have half the sides of the largest one or less, and
// its proportions to a pixel: small copies for looking. Of three pictures a single small one is the
// third plate, scanned more coarsely.
func withoutCopies(all []directory) []directory {
	var w, h int
	for _, d := range all {
		if x, y := d.size(); float64(x)*float64(y) > float64(w)*float64(h) {
			w, h = x, y
		}
	}
	whole := slices.DeleteFunc(slices.Clone(all), func(d directory) bool {
		x, y := d.size()
		across, down := float64(w)/float64(max(x, 1)), float64(h)/float64(max(y, 1))
		alike := math.Abs(float64(x)-float64(w)/down) <= 1 || math.Abs(float64(y)-float64(h)/across) <= 1
		return x > 0 && y > 0 && across >= 2 && down >= 2 && alike
	})
	if len(all) == 3 && len(whole) == 2 {
		return all
	}
	return whole
}

// size is that of a directory's picture in pixels, as it is stored.
func (d directory) size() (w, h int) { return d.value(tagWidth, 0, 0), d.value(tagHeight, 0, 0) }

// reduced tells whether a directory is that of a reduced copy of another picture (TIFF
// 6.0, page 36; by the tag that came before it, page 40).
func (d directory) reduced() bool {
	return d.value(tagSubfile, 0, 0)&1 == 1 || d.value(tagOldSubfile, 0, 0) == 2
}

// noPage says that a file has too few pictures; n counts from 0.
func noPage(n int) *Error {
	return &Error{Reason: fmt.Sprintf("it has no picture number %d", n+1), Remedy: "Give the three plates together, or a TIFF of three pages."}
}
