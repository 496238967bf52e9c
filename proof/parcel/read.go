package parcel

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strings"

	"threeply/proof/session"
)

// Parcel is what a file holds.
type Parcel struct {
	Session session.State
	Text    []byte // of session.json
	Sight   string // text of sight.json, "" where there is none or it is damaged
	Scans   []Inside
	Notes   []string // what could not be read, and what was done about it; none of a sound file
}

// Inside is a scan within the file.
type Inside struct {
	Name string
	Size int64
	At   int64 // where its bytes begin in the file; -1 where they are compressed

	open func() (io.Reader, error)
}

// Open reads the scan.
func (i Inside) Open() (io.Reader, error) { return i.open() }

// Is tells by its first bytes whether a file is a parcel.
func Is(first []byte) bool { return bytes.HasPrefix(first, []byte("PK\x03\x04")) }

// most bounds session.json: one of 500 notes and 40 palettes takes 3 MB.
const mostSession = 64 << 20

const mostSight = 1 << 20 // of sight.json, in bytes: a hundred times what the page writes

// Read reads a parcel. Where the file is damaged it takes what is whole: scans with the
// content that the session knows, and as much of the session as there is. It fails where
// there is no session, or it is of a later version; the scans that could be read are in
// the Parcel even then.
func Read(name string, data io.ReaderAt, size int64) (*Parcel, error) {
	p := &Parcel{}
	entries, whole := list(data, size)
	if !whole {
		p.note("%s is damaged: its list of contents is missing. What is whole was taken.", name)
	}
	if len(entries) == 0 {
		return p, fmt.Errorf("%s: it is no session of Threeply, or nothing of it can be read; open the file that “Save the session” wrote", name)
	}
	var inside []Inside
	found := false
	for _, e := range entries {
		switch {
		case e.name == sessionName && !found:
			text, err := e.text()
			if err != nil {
				p.note("%s is damaged: %v.", sessionName, err)
			}
			p.Text, found = text, true
		case e.name == sightName:
			if text, err := e.text(); err == nil && len(text) <= mostSight { // nothing was decided in it
				p.Sight = string(text)
			}
		case strings.HasPrefix(e.name, scansFolder) && len(e.name) > len(scansFolder) && !strings.HasSuffix(e.name, "/"):
			inside = append(inside, Inside{strings.TrimPrefix(e.name, scansFolder), e.size, e.at, e.open})
		}
	}
	if !found {
		p.Scans = inside
		return p, fmt.Errorf("%s: there is no %s in it; open its scans instead, or the file that “Save the session” wrote", name, sessionName)
	}
	s, lost, err := session.Salvage(sessionName+" in "+name, p.Text)
	if err != nil {
		p.Scans = inside
		return p, err
	}
	if len(lost) > 0 {
		p.note("Parts of the session in %s are damaged and begin anew: %s.", name, strings.Join(lost, ", "))
		if p.Text, err = session.Write(s); err != nil {
			return p, err
		}
	}
	p.Session = s
	p.take(inside)
	return p, nil
}

func (p *Parcel) note(says string, of ...any) { p.Notes = append(p.Notes, fmt.Sprintf(says, of...)) }

// take keeps the scans that have the content that the session knows, one each.
func (p *Parcel) take(inside []Inside) {
	wanted := map[string]bool{} // SHA-256 of the session's files
	unknown := false
	for _, src := range p.Session.Sources {
		if wanted[src.SHA256] = true; src.SHA256 == "" {
			unknown = true
		}
	}
	for _, scan := range inside {
		sum, err := scan.sum()
		switch {
		case err != nil:
			p.note("The scan %s is damaged (%v) and was left out.", scan.Name, err)
		case wanted[sum] || unknown:
			p.Scans = append(p.Scans, scan)
			delete(wanted, sum)
		default:
			p.note("%s has not the content of a scan of this session, so it was left out.", scan.Name)
		}
	}
	seen := map[string]bool{}
	for _, src := range p.Session.Sources {
		if wanted[src.SHA256] && src.SHA256 != "" && len(inside) > 0 && !seen[src.SHA256] {
			seen[src.SHA256] = true
			p.note("The scan %s is not in the file, or not whole: open it beside the session.", src.File)
		}
	}
}

// sum is the SHA-256 of a scan.
func (i Inside) sum() (string, error) {
	r, err := i.Open()
	if err != nil {
		return "", err
	}
	h := sha256.New()
	if _, err := io.Copy(h, r); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// entry is one file of the archive.
type entry struct {
	name string
	size int64
	at   int64
	open func() (io.Reader, error)
}

// text reads an entry whole; what could be read comes with an error too.
func (e entry) text() ([]byte, error) {
	r, err := e.open()
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(r, mostSession))
	if err == nil && len(text) == mostSession {
		err = errors.New("it is too large")
	}
	return text, err
}

// list gives the files of an archive: by its list, or, where that is damaged, those that
// can be found without it; then whole is false.
func list(data io.ReaderAt, size int64) (entries []entry, whole bool) {
	z, err := zip.NewReader(data, size)
	if err != nil {
		return found(data, size), false
	}
	for _, f := range z.File {
		e := entry{name: f.Name, size: int64(f.UncompressedSize64), at: -1}
		if offset, err := f.DataOffset(); err == nil && f.Method == zip.Store {
			e.at = offset
		}
		e.open = func() (io.Reader, error) { return f.Open() }
		entries = append(entries, e)
	}
	return entries, true
}

// found goes through an archive from its begin, from one file's head to the next (APPNOTE
// 6.3.10, 4.3.7), as long as their lengths are known and nothing is compressed. A file that
// is cut off ends it, and is taken as far as it goes.
func found(data io.ReaderAt, size int64) []entry {
	var out []entry
	le := binary.LittleEndian
	for at := int64(0); ; {
		var head [30]byte
		if _, err := data.ReadAt(head[:], at); err != nil || !Is(head[:]) {
			return out
		}
		flags, method := le.Uint16(head[6:]), le.Uint16(head[8:])
		crc, length := le.Uint32(head[14:]), int64(le.Uint32(head[18:]))
		name := make([]byte, le.Uint16(head[26:]))
		if _, err := data.ReadAt(name, at+30); err != nil || method != zip.Store || flags&8 != 0 {
			return out
		}
		begin := at + 30 + int64(len(name)) + int64(le.Uint16(head[28:]))
		there := max(min(length, size-begin), 0)
		part := io.NewSectionReader(data, begin, there)
		out = append(out, entry{string(name), length, begin, func() (io.Reader, error) {
			if _, err := part.Seek(0, io.SeekStart); err != nil {
				return nil, err
			}
			return &checked{r: part, want: crc, short: there < length}, nil
		}})
		if there < length {
			return out
		}
		at = begin + length
	}
}

// checked ends with an error where what was read is cut off or not what it was.
type checked struct {
	r     io.Reader
	crc   uint32
	want  uint32
	short bool
}

func (c *checked) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.crc = crc32.Update(c.crc, crc32.IEEETable, b[:n])
	if err != io.EOF {
		return n, err
	}
	switch {
	case c.short:
		return n, errors.New("it is cut off")
	case c.crc != c.want:
		return n, errors.New("its checksum is wrong")
	}
	return n, err
}
