// Package pigment knows the colouring matter: what single pigments absorb and
// scatter, tissues mixed of them, and palettes of three tissues.
//
// K and S are those of Kubelka and Munk per unit relative thickness. Thickness
// 1 is the amount of a pigment whose internal transmission falls to 0.1 at the
// absorption peak between 400 and 700 nm.
package pigment
