package shader

import "testing"

// No kind is compiled twice.
func TestKinds(t *testing.T) {
	seen := map[Kind]bool{}
	for _, kind := range Kinds() {
		if seen[kind] {
			t.Errorf("twice: %+v", kind)
		}
		seen[kind] = true
	}
}
