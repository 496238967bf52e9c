package scan

import (
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"strings"
)

// Error says which file could not be read, why, and what to do.
type Error struct {
	File        string
	Reason      string // a clause: "it ends within its header"
	Remedy      string // a sentence: "Copy or scan it again."
	Unsupported bool   // the file is whole, but of a kind that is not read
	Layout      bool   // the file is sound: another layout of the set would take it
}

func (e *Error) Error() string {
	return e.File + ": " + e.Reason + ". " + e.Remedy
}

const again = "Copy or scan it again."

func malformed(format string, args ...any) *Error {
	return &Error{Reason: fmt.Sprintf(format, args...), Remedy: again}
}

func unsupported(remedy, format string, args ...any) *Error {
	return &Error{Reason: fmt.Sprintf(format, args...), Remedy: remedy, Unsupported: true}
}

// fromLibrary puts a decoder's error into words.
func fromLibrary(err error) *Error {
	if own, ok := errors.AsType[*Error](err); ok {
		return own
	}
	var jpegKind jpeg.UnsupportedError
	switch {
	case errors.As(err, &jpegKind):
		return unsupported("Save it as 8- or 16-bit grey or RGB TIFF, uncompressed.", "it uses something that is not read (%v)", err)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF), strings.Contains(err.Error(), "short Huffman data"):
		// Damage can end the coded pixels early too, in a file that is whole.
		return malformed("it is damaged or cut short: its pixels end before the last row")
	}
	return malformed("it is damaged (%v)", err)
}

// guard runs a library's decoder and turns a panic on damaged data into an
// error, so that one bad file never ends the program.
func guard[T any](decode func() (T, error)) (v T, refusal *Error) {
	defer func() {
		if p := recover(); p != nil {
			refusal = malformed("it is damaged (%v)", p)
		}
	}()
	v, err := decode()
	if err != nil {
		return v, fromLibrary(err)
	}
	return v, nil
}

// checkSize refuses a picture that is empty, beyond MaxPixels, or that the
// bytes at hand cannot hold: a stored byte gives at most ratio bytes of
// pixels.
func checkSize(w, h, bytesPerPixel, stored int, ratio float64) *Error {
	if w <= 0 || h <= 0 {
		return malformed("its header says %d × %d pixels", w, h)
	}
	pixels := float64(w) * float64(h)
	if pixels > MaxPixels {
		return &Error{
			Reason:      fmt.Sprintf("its header claims %d × %d pixels, %.0f megapixels; the limit is %.0f", w, h, pixels/1e6, MaxPixels/1e6),
			Remedy:      "If it is really that large, reduce it; otherwise copy or scan it again.",
			Unsupported: true,
		}
	}
	if pixels*float64(bytesPerPixel) > float64(stored)*ratio {
		return malformed("its header claims %d × %d pixels, but the %d bytes it holds are too few for them", w, h, stored)
	}
	return nil
}

func bitsInWords(n int) string {
	if n == 1 {
		return "1 bit"
	}
	return fmt.Sprintf("%d bits", n)
}
