// Package shader is the pictures' shaders and what they are given: the layout of the table
// that they look colours up in, and their uniforms. Both are written down here once; their
// declarations in proof.kage are generated from these files.
package shader

//go:generate go run ./generate
