package scan

import (
	"encoding/binary"
	"fmt"
)

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
	var out []PageSize
	for _, at := range directories(data, head) {
		d, _, refusal := readDirectory(pageOf(data, head, at))
		if refusal != nil {
			return nil
		}
		out = append(out, PageSize{d.value(tagWidth, 0, 0), d.value(tagHeight, 0, 0)})
	}
	return out
}

// PageSize is the size of a page, in pixels.
type PageSize struct{ W, H int }

// page is a TIFF whose head points to another directory than the file's does.
type page struct {
	Data
	head [8]byte
}

// pageOf is a file as if the directory at an offset were its first.
func pageOf(data Data, head []byte, at uint32) page {
	p := page{Data: data}
	copy(p.head[:], head)
	orderOf(head).PutUint32(p.head[4:], at)
	return p
}

// ReadAt reads the file, and the other head in its place.
func (p page) ReadAt(b []byte, at int64) (int, error) {
	n, err := p.Data.ReadAt(b, at)
	for i := at; i < int64(len(p.head)) && i < at+int64(n); i++ {
		b[i-at] = p.head[i]
	}
	return n, err
}

func orderOf(head []byte) binary.ByteOrder {
	if head[0] == 'M' {
		return binary.BigEndian
	}
	return binary.LittleEndian
}

// onPage is a file as if one of its further pictures were its first.
func onPage(name string, data Data, n int) (Data, error) {
	head, refusal := part(data, 0, min(data.Size(), 8))
	if refusal == nil && len(head) == 8 && (head[0] == 'I' || head[0] == 'M') {
		if all := directories(data, head); n < len(all) {
			return pageOf(data, head, all[n]), nil
		}
	}
	return nil, &Error{File: name, Reason: fmt.Sprintf("it has no picture number %d", n+1), Remedy: "Give the three plates together, or a TIFF of three pages."}
}

// directories are where the directories of a TIFF's full pictures lie, in their order
// (TIFF 6.0, page 14). A damaged chain, or one that runs back, ends there.
func directories(data Data, head []byte) []uint32 {
	order := orderOf(head)
	var out []uint32
	if len(head) < 8 {
		return nil
	}
	for at := int64(order.Uint32(head[4:])); at > 0 && at+2 <= data.Size() && len(out) < maxPictures; {
		count, bad := part(data, at, 2)
		if bad != nil {
			break
		}
		entries := int64(order.Uint16(count))
		if at+2+entries*directoryEntry+4 > data.Size() {
			break
		}
		table, bad := part(data, at+2, entries*directoryEntry+4)
		if bad != nil {
			break
		}
		if !reduced(table, order) {
			out = append(out, uint32(at))
		}
		next := int64(order.Uint32(table[len(table)-4:]))
		if next <= at {
			break
		}
		at = next
	}
	return out
}

// picturesOf counts the pictures of a TIFF, 1 at the least.
func picturesOf(data Data) int {
	head, refusal := part(data, 0, 8)
	if refusal != nil {
		return 1
	}
	return max(len(directories(data, head)), 1)
}

// reduced tells whether a directory is that of a reduced copy of another picture (TIFF
// 6.0, page 36).
func reduced(table []byte, order binary.ByteOrder) bool {
	for e := 0; e+directoryEntry <= len(table)-4; e += directoryEntry {
		if order.Uint16(table[e:]) == tagSubfile && order.Uint32(table[e+8:])&1 == 1 {
			return true
		}
	}
	return false
}
