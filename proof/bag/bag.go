// Package bag makes an archive package of files: a bag of BagIt 1.0 (RFC 8493), with
// SHA-256 of every file, so that whoever holds it in fifty years can tell whether it is
// whole.
package bag

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"path"
	"strings"
	"time"
	"unicode"
)

// File is one file. Paths have forward slashes.
type File struct {
	Path    string
	Content func(w io.Writer) error // writes all of it; it is asked for once
	SHA256  string                  // that the content must have, "" where nothing is known of it
	Scan    int                     // 1 and on for the scans, in order, that a Skipper takes from elsewhere; 0 for all others
}

// Info is what a bag says of itself (RFC 8493, 2.2.2). What is empty is left out.
type Info struct {
	Organization string // Source-Organization
	Identifier   string // External-Identifier
	Description  string // External-Description
	Software     string // Bag-Software-Agent
	Date         time.Time
}

// Files gives all files of a bag: those of the payload, below data, and what the
// standard asks for besides. They must be written in this order, each once: what comes
// last tells what was written before. It fails where two files have one path, or a path
// leads out of the bag.
func Files(payload []File, info Info) ([]File, error) {
	b := &bag{}
	taken := map[string]bool{}
	var out []File
	for _, f := range payload {
		if err := checkPath(f.Path); err != nil {
			return nil, err
		}
		key := strings.ToLower(f.Path)
		if taken[key] {
			return nil, fmt.Errorf("two files of the bag are called %s", f.Path)
		}
		taken[key] = true
		f.Path = "data/" + f.Path
		out = append(out, b.listed(&b.payload, f))
	}
	text := func(path string, says func() string) File {
		return File{Path: path, Content: func(w io.Writer) error { _, err := io.WriteString(w, says()); return err }}
	}
	return append(out,
		b.listed(&b.tags, text("bagit.txt", func() string { return "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n" })),
		b.listed(&b.tags, text("bag-info.txt", func() string { return info.text(b.size, len(payload)) })),
		b.listed(&b.tags, text("manifest-sha256.txt", func() string { return strings.Join(b.payload, "") })),
		text("tagmanifest-sha256.txt", func() string { return strings.Join(b.tags, "") }),
	), nil
}

// bag is what is known of the files that were written.
type bag struct {
	payload, tags []string // lines of the manifests
	size          int64    // of the payload, in bytes
}

// listed notes a file in a manifest as it is written.
func (b *bag) listed(manifest *[]string, f File) File {
	content := f.Content
	f.Content = func(w io.Writer) error {
		h := &hashed{to: w, sum: sha256.New()}
		if err := content(h); err != nil {
			return err
		}
		sum := hex.EncodeToString(h.sum.Sum(nil))
		if f.SHA256 != "" && f.SHA256 != sum {
			return fmt.Errorf("%s: its content has changed since it was opened; open the scans again", path.Base(f.Path))
		}
		*manifest = append(*manifest, sum+"  "+escapedPath(f.Path)+"\n")
		if manifest == &b.payload {
			b.size += h.n
		}
		return nil
	}
	return f
}

type hashed struct {
	to  io.Writer
	sum hash.Hash
	n   int64
}

func (h *hashed) Write(p []byte) (int, error) {
	n, err := h.to.Write(p)
	h.sum.Write(p[:n])
	h.n += int64(n)
	return n, err
}

// escapedPath is a path as a manifest has it (RFC 8493, 2.1.3).
func escapedPath(path string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A").Replace(path)
}

// text is bag-info.txt: a line for each element, the lines of a long one joined.
func (i Info) text(size int64, files int) string {
	var b strings.Builder
	for _, element := range [][2]string{
		{"Source-Organization", i.Organization}, {"External-Identifier", i.Identifier}, {"External-Description", i.Description},
		{"Bagging-Date", i.Date.UTC().Format(time.DateOnly)}, {"Payload-Oxum", fmt.Sprintf("%d.%d", size, files)}, {"Bag-Software-Agent", i.Software},
	} {
		if says := strings.Join(strings.FieldsFunc(element[1], func(r rune) bool { return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' }), " "); says != "" {
			b.WriteString(element[0] + ": " + says + "\n")
		}
	}
	return b.String()
}

// checkPath refuses what could lie outside of the bag, or not be written on every disc
// (RFC 8493, 5.2 and 6.1.2).
func checkPath(p string) error {
	if p == "" || p != path.Clean(p) || path.IsAbs(p) || p == ".." || strings.HasPrefix(p, "../") || strings.HasPrefix(p, "~") {
		return fmt.Errorf("“%s” is no path within a bag", p)
	}
	if strings.ContainsAny(p, "<>:\"\\|?*") || strings.ContainsFunc(p, unicode.IsControl) {
		return fmt.Errorf("“%s” has a sign that some discs do not take", p)
	}
	return nil
}
