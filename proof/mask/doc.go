// Package mask finds the photographic masks that would correct three separation
// negatives for the unwanted absorptions of the tissues, as a 3×3 matrix in
// density.
package mask
