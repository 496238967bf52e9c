package order

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The value at any rank is the one that sorting puts there, with few values and many, equal
// ones among them; none is lost, and they are parted around it.
func TestNthAgainstSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(-5, 5), rapid.Map(rapid.IntRange(0, 3), func(i int) float64 { return float64(i) })), 1, 200).Draw(t, "v")
		k := rapid.IntRange(0, len(v)-1).Draw(t, "k")
		sorted := slices.Sorted(slices.Values(v))
		if got := Nth(v, k); got != sorted[k] || !slices.Equal(slices.Sorted(slices.Values(v)), sorted) {
			t.Fatalf("rank %d: %g, want %g", k, got, sorted[k])
		}
		if slices.Max(v[:k+1]) > v[k] || slices.Min(v[k:]) < v[k] {
			t.Fatalf("rank %d does not part %v", k, v)
		}
	})
}
