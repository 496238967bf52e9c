package site

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
)

// Offline is the script of the service worker of a site: worker, with the list of the
// site's files said before it as set, with the SHA-256 of each and of all as the version.
// Packed copies, NAME.gz, are no files of their own.
func Offline(site fs.FS, worker []byte) ([]byte, error) {
	files, all := map[string]string{}, sha256.New()
	err := fs.WalkDir(site, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) == ".gz" {
			return err
		}
		content, err := fs.ReadFile(site, name)
		if err != nil {
			return err
		}
		files[name] = fmt.Sprintf("%x", sha256.Sum256(content))
		fmt.Fprintln(all, files[name], name)
		return nil
	})
	if err != nil {
		return nil, err
	}
	set, err := json.Marshal(map[string]any{"version": fmt.Sprintf("%.8x", all.Sum(nil)), "files": files})
	if err != nil {
		return nil, err
	}
	return append(fmt.Appendf(nil, "const set = %s;\n", set), worker...), nil
}
