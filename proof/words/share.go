package words

import "fmt"

// Share is a share, 0 … 1, in per cent: "none" only for nothing at all, and "all" only
// for the whole.
func Share(v float64) string {
	switch {
	case v <= 0:
		return "none"
	case v >= 1:
		return "all"
	case v < 0.001:
		return "under 0.1 %"
	case v > 0.999:
		return "over 99.9 %"
	case v < 0.1:
		return fmt.Sprintf("%.1f %%", 100*v)
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}
