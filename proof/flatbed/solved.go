package flatbed

import "threeply/proof/linear"

// solved is the affine map that takes marks to the places that they pair with, by least
// squares.
func solved(marks, seen [][2]float64, pairs [][2]int) place {
	var h [9]float64
	var b [6]float64
	for _, pair := range pairs {
		u := [3]float64{marks[pair[0]][0], marks[pair[0]][1], 1}
		for i := range u {
			for j := range u {
				h[3*i+j] += u[i] * u[j]
			}
			b[2*i] += u[i] * seen[pair[1]][0]
			b[2*i+1] += u[i] * seen[pair[1]][1]
		}
	}
	linear.Solve(h[:], b[:], 0)
	return place{b[0], b[2], b[4], b[1], b[3], b[5]}
}
