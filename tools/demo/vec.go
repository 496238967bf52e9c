package main

import "math"

// vec is a point or a direction of the scene. One unit is 100 mm; x to the
// right, y up, z towards the camera.
type vec struct{ X, Y, Z float64 }

func (a vec) add(b vec) vec     { return vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a vec) sub(b vec) vec     { return vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a vec) mul(s float64) vec { return vec{a.X * s, a.Y * s, a.Z * s} }
func (a vec) dot(b vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a vec) len() float64      { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec         { return a.mul(1 / a.len()) }
func (a vec) along(t float64, d vec) vec {
	return vec{a.X + t*d.X, a.Y + t*d.Y, a.Z + t*d.Z}
}

func (a vec) cross(b vec) vec {
	return vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// basis returns two directions that make a right-handed frame with the unit
// vector n.
func (n vec) basis() (u, v vec) {
	a := vec{1, 0, 0}
	if math.Abs(n.X) > 0.7 {
		a = vec{0, 1, 0}
	}
	u = a.cross(n).unit()
	return u, n.cross(u)
}

// mirror returns the direction d reflected at the unit normal n.
func (d vec) mirror(n vec) vec { return d.sub(n.mul(2 * d.dot(n))) }

// frame is a rigid placement: the origin O and the unit axes U, V, W of an
// object in the scene.
type frame struct{ O, U, V, W vec }

// place returns the frame at o, tilted by tilt degrees about its own x axis,
// rolled by roll degrees about its own z axis, then turned by turn degrees
// about the vertical, counter-clockwise seen from above.
func place(o vec, turn, tilt, roll float64) frame {
	rot := func(p vec) vec {
		s, c := math.Sincos(roll * math.Pi / 180)
		p = vec{c*p.X - s*p.Y, s*p.X + c*p.Y, p.Z}
		s, c = math.Sincos(tilt * math.Pi / 180)
		p = vec{p.X, c*p.Y - s*p.Z, s*p.Y + c*p.Z}
		s, c = math.Sincos(turn * math.Pi / 180)
		return vec{c*p.X + s*p.Z, p.Y, -s*p.X + c*p.Z}
	}
	return frame{o, rot(vec{1, 0, 0}), rot(vec{0, 1, 0}), rot(vec{0, 0, 1})}
}

// in turns a direction of the scene into the frame's own axes.
func (f *frame) in(d vec) vec { return vec{d.dot(f.U), d.dot(f.V), d.dot(f.W)} }

// out turns a direction in the frame's axes into the scene's.
func (f *frame) out(d vec) vec {
	return f.U.mul(d.X).add(f.V.mul(d.Y)).add(f.W.mul(d.Z))
}

// local returns the point p in the frame's own coordinates.
func (f *frame) local(p vec) vec { return f.in(p.sub(f.O)) }

// point returns the point of the scene with the local coordinates p.
func (f *frame) point(p vec) vec { return f.O.add(f.out(p)) }
