// Package neutral works with the greys of a scene as the three plates hold
// them: it reads them where a person points, or step by step along a grey
// scale, finds such a scale in a picture, and says from them what exposure and
// which slope each plate has against the key.
//
// Densities are to base 10 and exposures log10; plates are in the order of
// filter.All, red, green and blue. Places are pixels of the key plate,
// centres at whole numbers.
package neutral
