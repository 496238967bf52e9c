package scan

func (t *tiffPicture) offsetTag() int {
	if t.count(tagTileOffsets) > 0 {
		return tagTileOffsets
	}
	return tagStripOffsets // of tiles too, as some writers have it
}

// lies says where strip or tile n lies in the file, and how long it is: as the file says, but no
// longer than its pixels can make it. Where the file does not say, it goes on for as many bytes as
// they take, packed ones to the file's end at most.
func (t *tiffPicture) lies(n int) (at, length int) {
	counts := tagStripCounts
	if t.count(tagTileCounts) > 0 {
		counts = tagTileCounts
	}
	rows := t.pieceH
	if !t.tiled {
		rows = min(rows, t.h-t.pieceH*(n%t.piecesDown()))
	}
	unpacked, size := rows*t.rowBytes(), int(t.data.Size())
	at, length = t.value(t.offsetTag(), n, 0), t.value(counts, n, 0)
	switch said := length > 0; {
	case t.compression != compressionNone && !said:
		length = min(max(size-at, 0), 2*unpacked+mostAround)
	case t.compression != compressionNone:
		length = min(length, 2*unpacked+mostAround)
	case !said:
		length = unpacked
	case at+length > size: // its pixels may be there nevertheless
		length = min(length, unpacked)
	}
	return at, length
}

// mostAround is how much longer than twice its pixels a packed strip or tile can be, in bytes: the
// tables of a JPEG and what else stands in its head. A judgement without a source. Without a bound,
// tiles that all claim to be as long as the file would hold the reader up for hours.
const mostAround = 1 << 16

// mostMissing is how many bytes a file may lack at its end and still be opened. A judgement
// without a source.
const mostMissing = 4096

// forgiven is how many bytes piece n may lack at the file's end: of the last strip, less
// than a row.
func (t *tiffPicture) forgiven(n int) int {
	if n < 0 || n != t.count(t.offsetTag())-1 || t.tiled {
		return 0
	}
	return min(t.rowBytes()-1, mostMissing)
}

// rowBytes is the length of a row of a piece, unpacked.
func (t *tiffPicture) rowBytes() int { return (t.pieceW*t.pieceSamples()*t.bits + 7) / 8 }

// pieceSamples is how many samples of a pixel a piece holds.
func (t *tiffPicture) pieceSamples() int {
	if t.separate {
		return 1
	}
	return t.samples
}

func (t *tiffPicture) piecesAcross() int { return (t.w + t.pieceW - 1) / t.pieceW }
func (t *tiffPicture) piecesDown() int   { return (t.h + t.pieceH - 1) / t.pieceH }

func (t *tiffPicture) pieces() int {
	n := t.piecesAcross() * t.piecesDown()
	if t.separate {
		n *= t.samples
	}
	return n
}
