// Package balance answers the printmaker's question backwards: which amounts of
// the three layers give a wanted colour, how deep a neutral a recipe reaches,
// and how much of each layer keeps the grey scale grey on the way there.
package balance
