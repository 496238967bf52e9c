// Package parcel puts a session and its scans into one file, and takes them out again.
// The file is a ZIP archive, in which nothing is compressed: whoever has no Threeply takes
// the scans out with any program that opens archives, and the browser takes them out
// without copying them.
//
// It holds session.json, the scans in the folder scans, a text that says what it is, and where
// the page wrote it sight.json: how all of it was looked at last.
// The session knows its scans by their SHA-256, so it does not matter what their files are
// called.
package parcel

import (
	"archive/zip"
	"fmt"
	"hash/crc32"
	"io"
	"path"
	"strings"
	"unicode/utf8"
)

const (
	sessionName = "session.json"
	sightName   = "sight.json"
	scansFolder = "scans/"
	aboutName   = "about.txt"
	about       = "This is a session of Threeply with the scans that it was made from, untouched.\r\n" +
		"Open the whole file with Threeply, or take out what you need: the scans lie in the\r\n" +
		"folder scans, and session.json says in plain JSON what was decided on them.\r\n"
)

// Scan is one of the scans that go into a parcel.
type Scan struct {
	Name string
	Size int64

	// Content writes the scan's bytes, the same each time. It is asked for them twice.
	Content func(w io.Writer) error
}

// Skipper is an out of Write that takes the bytes of a scan from elsewhere: of what is
// written between Skip(i) and Skip(-1) it needs to know the length alone.
type Skipper interface{ Skip(scan int) }

// Write writes a parcel. session is the text of session.json, sight that of sight.json, "" for
// none. Its errors are those of out and of the scans.
func Write(out io.Writer, session []byte, sight string, scans []Scan) error {
	z := zip.NewWriter(out)
	for _, text := range []struct{ name, says string }{{sessionName, string(session)}, {sightName, sight}, {aboutName, about}} {
		if text.says == "" && text.name == sightName {
			continue
		}
		content := func(w io.Writer) error { _, err := io.WriteString(w, text.says); return err }
		if err := put(z, text.name, int64(len(text.says)), content, func(bool) {}); err != nil {
			return err
		}
	}
	skipper, skips := out.(Skipper)
	names := map[string]bool{}
	for i, s := range scans {
		name := FreeName(s.Name, names)
		mark := func(begins bool) {
			switch {
			case !skips:
			case begins:
				skipper.Skip(i)
			default:
				skipper.Skip(-1)
			}
		}
		if err := put(z, scansFolder+name, s.Size, s.Content, mark); err != nil {
			return fmt.Errorf("%s: %w", s.Name, err)
		}
	}
	return z.Close()
}

// put adds a file as it is, its length and checksum before it, so that it can be found
// again where the archive's list is lost. mark is called around its bytes.
func put(z *zip.Writer, name string, size int64, content func(io.Writer) error, mark func(begins bool)) error {
	sum := &summed{}
	if err := content(sum); err != nil {
		return err
	}
	if sum.n != size {
		return fmt.Errorf("%d bytes could be read of %d; it was changed meanwhile: open it again", sum.n, size)
	}
	h := &zip.FileHeader{Name: name, Method: zip.Store, CRC32: sum.crc, CompressedSize64: uint64(size), UncompressedSize64: uint64(size)}
	if !isASCII(name) {
		h.Flags = 0x800 // the name is UTF-8 (APPNOTE 6.3.10, 4.4.4, bit 11)
	}
	w, err := z.CreateRaw(h)
	if err != nil {
		return err
	}
	if err := z.Flush(); err != nil {
		return err
	}
	mark(true)
	if err := content(w); err != nil {
		return err
	}
	err = z.Flush()
	mark(false)
	return err
}

// summed knows how much was written to it, and its CRC-32.
type summed struct {
	n   int64
	crc uint32
}

func (s *summed) Write(b []byte) (int, error) {
	s.n += int64(len(b))
	s.crc = crc32.Update(s.crc, crc32.IEEETable, b)
	return len(b), nil
}

func isASCII(s string) bool { return strings.IndexFunc(s, func(r rune) bool { return r > 126 }) < 0 }

// FreeName is the name of a scan without its folders, fit for every disc, and with a number
// where another one has it.
func FreeName(name string, taken map[string]bool) string {
	name = path.Base(strings.ReplaceAll(strings.ToValidUTF8(name, "_"), `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if r < 32 || r == 127 || strings.ContainsRune(`<>:"|?*`, r) || r == utf8.RuneError {
			return '_'
		}
		return r
	}, name)
	if strings.Trim(name, ". /") == "" {
		name = "scan"
	}
	free := name
	for n := 2; taken[strings.ToLower(free)]; n++ {
		ending := path.Ext(name)
		free = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ending), n, ending)
	}
	taken[strings.ToLower(free)] = true
	return free
}
