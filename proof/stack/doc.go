// Package stack is the optics of the print: pigmented gelatine layers on paper
// under a surface, as two-flux Kubelka–Munk films.
//
// There is no reflecting surface between the layers. Amounts are relative
// thicknesses, given by printer (yellow, magenta, cyan) whatever the order.
package stack
