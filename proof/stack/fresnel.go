package stack

import "math"

// fresnel is the reflectance of a face for unpolarised light that comes from
// index n1 at an angle of cosine c1 and goes on in index n2.
func fresnel(n1, n2, c1 float64) float64 {
	s2 := n1 * n1 * (1 - c1*c1) / (n2 * n2)
	if s2 >= 1 {
		return 1
	}
	c2 := math.Sqrt(1 - s2)
	s := (n1*c1 - n2*c2) / (n1*c1 + n2*c2)
	p := (n1*c2 - n2*c1) / (n1*c2 + n2*c1)
	return (s*s + p*p) / 2
}

// hemisphere is ∫ 2 sinθ cosθ f(cosθ) dθ over the hemisphere, by the midpoints
// of 2000 steps of cos²θ, in which all light weighs the same.
func hemisphere(f func(cos float64) float64) float64 {
	const steps = 2000
	sum := 0.0
	for i := range steps {
		sum += f(math.Sqrt((float64(i) + 0.5) / steps))
	}
	return sum / steps
}
