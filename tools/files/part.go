package files

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
)

// partial is a file that is not whole yet.
type partial interface {
	io.WriteCloser
	Name() string
	Sync() error
}

// unfinished holds the names of the parts that lie on the disc.
var unfinished = struct {
	sync.Mutex
	names map[string]bool
}{names: map[string]bool{}}

// Abandon removes the parts of all files that are not whole, for a program that
// is told to end in the middle of its work.
func Abandon() {
	unfinished.Lock()
	defer unfinished.Unlock()
	for name := range unfinished.names {
		os.Remove(name)
	}
}

// part begins a file in a folder under a name that nothing has.
func (j *Job) part(folder string) (partial, error) {
	create := j.create
	if create == nil {
		create = newPart
	}
	return create(folder)
}

// newPart begins a file with the rights that the user gives to new files.
func newPart(folder string) (partial, error) {
	unfinished.Lock()
	defer unfinished.Unlock()
	for {
		name := filepath.Join(folder, fmt.Sprintf(".part-%08x", rand.Uint32()))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if os.IsExist(err) {
			continue
		}
		if err != nil {
			return nil, err
		}
		unfinished.names[name] = true
		return f, nil
	}
}

// drop closes a part and removes it.
func drop(p partial) {
	p.Close()
	unfinished.Lock()
	defer unfinished.Unlock()
	if err := os.Remove(p.Name()); err == nil || os.IsNotExist(err) {
		delete(unfinished.names, p.Name())
	}
}

var _ partial = (*os.File)(nil)
