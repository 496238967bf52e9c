//go:build js

// Package screen draws the pictures: panes through the shader, from windows of the
// plates and tables of the print that lie on the graphics card.
package screen
