package stack

import "math"

// DiffuseOutside is the reflectance of a smooth face of index n > 1 for
// perfectly diffuse light from the air,
//
//	∫ 2 sinθ cosθ r(θ) dθ, θ from 0 to π/2
func DiffuseOutside(n float64) float64 {
	return hemisphere(func(cos float64) float64 { return fresnel(1, n, cos) })
}

// DiffuseInside is the reflectance of the same face from inside, total
// reflection included: 1 - (1 - DiffuseOutside)/n².
func DiffuseInside(n float64) float64 { return 1 - (1-DiffuseOutside(n))/(n*n) }

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
