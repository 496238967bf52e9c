// Package cube tabulates the colour of one recipe over all amounts of its
// three layers, so that a pixel costs a look-up.
package cube
