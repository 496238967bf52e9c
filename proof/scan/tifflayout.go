package scan

func (t *tiffPicture) offsetTag() int {
	if t.tiled {
		return tagTileOffsets
	}
	return tagStripOffsets
}

// lies says where strip or tile n lies in the file. Where the file does not say how long
// it is, it goes on for as many bytes as its pixels take, compressed to the file's end.
func (t *tiffPicture) lies(n int) (at, length int) {
	counts := tagStripCounts
	if t.tiled {
		counts = tagTileCounts
	}
	at = t.value(t.offsetTag(), n, 0)
	if t.count(counts) > n {
		return at, t.value(counts, n, 0)
	}
	size := int(t.data.Size())
	if t.compression == compressionNone {
		rows := t.pieceH
		if !t.tiled {
			rows = min(rows, t.h-t.pieceH*(n%t.piecesDown()))
		}
		return at, rows * t.rowBytes()
	}
	return at, max(size-at, 0)
}

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
