// Package shader is the picture's shader and what it is given: the layout of the table
// that it looks colours up in, and its uniforms. Both are written down here once; their
// declarations in proof.kage are generated from these files.
package shader

import _ "embed"

// Source is the shader in Kage.
//
//go:embed proof.kage
var Source []byte

//go:generate go run ./generate
