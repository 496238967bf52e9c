//go:build js

// Package midway lets the page's thread go halfway through the initialization of the program's
// packages; see package breath.
//
// Ebitengine's compile shaders of their own in an init, which takes longer than all the rest; they
// wait for text/template and that for unique, which comes after whatever of this module is ready. So
// the pause in this package's init, ready after session, comes before them.
package midway

import (
	_ "threeply/proof/session"
	"threeply/wasm/page/breath"
)

func init() { breath.Take() }
