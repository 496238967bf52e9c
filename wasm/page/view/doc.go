// Package view is how the pictures on the stage are looked at: which ones, where each
// stands, how far they are enlarged, the loupe, and the three plates side by side
// while marks are pinned. None of it is part of the session's history.
//
// Lengths on the stage are CSS pixels. A device pixel is a pixel of the canvas, of
// which Stage.Ratio make a CSS pixel. Pixel centres of every picture, and of the
// canvas, lie at whole numbers.
package view
