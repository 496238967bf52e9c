package stack

import "testing"

func TestParseOrder(t *testing.T) {
	for _, o := range Orders() {
		got, err := ParseOrder(o.String())
		if err != nil || got != o {
			t.Errorf("%s: %v %v", o, got, err)
		}
	}
	for _, bad := range []string{"", "y", "yyc", "YMC", "ymcy", "abc"} {
		if _, err := ParseOrder(bad); err == nil {
			t.Errorf("%q passes for an order", bad)
		}
	}
}
