// Package light estimates in what light three registered plates were exposed,
// where no grey of the scene is known, by published assumptions on what a scene
// is like as a whole.
//
// A picture here is the linear exposures that the plates hold of one scene,
// point by point; the light is what a neutral would have in the three plates,
// in the order of filter.All, red, green and blue. Only its ratios count.
package light
