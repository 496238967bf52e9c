//go:build js

package screen

import (
	"testing"

	"threeply/wasm/page/view"
)

// The shaders are Kage: everything that the library's compiler finds wrong is found here.
func TestShadersCompile(t *testing.T) {
	s := &Screen{}
	for shows := range view.Pictures {
		if s.shaderOf(shows) == nil {
			t.Fatal(s.failed)
		}
	}
}
