package bag

import (
	"archive/zip"
	"io"
	"path"
	"slices"
)

// Skipper is an out of Zip that takes the bytes of a scan from elsewhere: it is told the
// scan's number before its bytes come, and 0 behind them. Of these bytes it needs none.
type Skipper interface{ Skip(scan int) }

// packed are the endings of files that are compressed in themselves.
var packed = []string{".tif", ".tiff", ".png", ".jpg", ".jpeg", ".icc"}

// Zip writes the files of a bag as one ZIP archive with the folder root at its top, which
// is how a bag is sent (RFC 8493, 4.2). Scans are not compressed.
func Zip(out io.Writer, root string, files []File) error {
	z := zip.NewWriter(out)
	skipper, skips := out.(Skipper)
	for _, f := range files {
		h := &zip.FileHeader{Name: path.Join(root, f.Path), Method: zip.Deflate}
		if f.Scan > 0 || slices.Contains(packed, path.Ext(f.Path)) {
			h.Method = zip.Store
		}
		w, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		skipped := skips && f.Scan > 0
		if skipped {
			if err := z.Flush(); err != nil {
				return err
			}
			skipper.Skip(f.Scan)
		}
		if err := f.Content(w); err != nil {
			return err
		}
		if skipped {
			if err := z.Flush(); err != nil {
				return err
			}
			skipper.Skip(0)
		}
	}
	return z.Close()
}
