//go:build js

package screen

import "testing"

// The shader is Kage: everything that the library's compiler finds wrong is found here.
func TestShaderCompiles(t *testing.T) {
	if _, err := New(); err != nil {
		t.Fatal(err)
	}
}
