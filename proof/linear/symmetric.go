package linear

// Symmetric is the symmetric matrix
//
//	⎡XX XY⎤
//	⎣XY YY⎦
//
// such as the moments of points in the plane about their centre, or the
// covariance of a place.
type Symmetric struct{ XX, XY, YY float64 }

// Add adds w times the moments of the point (x, y).
func (s *Symmetric) Add(w, x, y float64) {
	s.XX += w * x * x
	s.XY += w * x * y
	s.YY += w * y * y
}

// Det is the determinant; of moments it is 0 where all points lie on a line
// through the centre.
func (s Symmetric) Det() float64 { return s.XX*s.YY - s.XY*s.XY }

// Solve is s⁻¹·(x, y). Where the determinant is 0 it is not finite.
func (s Symmetric) Solve(x, y float64) (u, v float64) {
	d := s.Det()
	return (s.YY*x - s.XY*y) / d, (s.XX*y - s.XY*x) / d
}

// Inverse is s⁻¹. Where the determinant is 0 it is not finite.
func (s Symmetric) Inverse() Symmetric {
	d := s.Det()
	return Symmetric{s.YY / d, -s.XY / d, s.XX / d}
}

// Form is (x, y)·s⁻¹·(x, y), such as the leverage of a place against the points
// that a line or a map was fitted to. Where the determinant is 0 it is not finite.
func (s Symmetric) Form(x, y float64) float64 {
	return (s.YY*x*x - 2*s.XY*x*y + s.XX*y*y) / s.Det()
}
