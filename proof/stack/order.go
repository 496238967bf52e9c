package stack

import (
	"fmt"

	"threeply/proof/pigment"
)

// Order lists the printers from the paper up.
type Order [3]pigment.Printer

// DefaultOrder puts yellow on the paper, then magenta, then cyan: the usual one.
var DefaultOrder = Order{pigment.Yellow, pigment.Magenta, pigment.Cyan}

// Orders lists all six, DefaultOrder first.
func Orders() []Order {
	const y, m, c = pigment.Yellow, pigment.Magenta, pigment.Cyan
	return []Order{{y, m, c}, {y, c, m}, {m, y, c}, {m, c, y}, {c, y, m}, {c, m, y}}
}

// ParseOrder reads an order such as "ymc", from the paper up.
func ParseOrder(s string) (Order, error) {
	for _, o := range Orders() {
		if o.String() == s {
			return o, nil
		}
	}
	return Order{}, fmt.Errorf("order %q: want each of y, m and c once, from the paper up, such as ymc", s)
}

func (o Order) String() string {
	b := make([]byte, 0, 3)
	for _, p := range o {
		b = append(b, p.String()[0])
	}
	return string(b)
}
