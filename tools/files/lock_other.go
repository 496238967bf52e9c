//go:build !unix && !windows

package files

// Lock holds nothing up: files are not locked here.
func Lock(string, func()) (unlock func(), err error) { return func() {}, nil }
