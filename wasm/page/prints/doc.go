// Package prints holds what is worked out from the session and its plates so that the
// print can be shown: the optics of the recipe, the curves and masks, the print's
// variants, and how deep a black each palette reaches. Each is worked out anew only
// where something that it stands on has changed.
package prints
