package sheet

// filtered appends a row as the format filters it (section 9): each byte less the mean of
// that at its left and that above, or less that at its left alone where the row above does
// not count. rgba and above are rows of four bytes a pixel, of which three are written.
func filtered(to, rgba, above []byte) []byte {
	const bySub, byAverage = 1, 3
	begin, n := len(to)+1, len(rgba)/4
	if above == nil {
		to = append(to, bySub)
		var r, g, b byte
		for i := range n {
			px := rgba[4*i : 4*i+4 : 4*i+4]
			to = append(to, px[0]-r, px[1]-g, px[2]-b)
			r, g, b = px[0], px[1], px[2]
		}
		return to
	}
	to = append(append(to, byAverage), rgba[:3*n]...) // room for the row
	out := to[begin:]
	var r, g, b byte
	for i := range n {
		px, up, at := rgba[4*i:4*i+4:4*i+4], above[4*i:4*i+4:4*i+4], out[3*i:3*i+3:3*i+3]
		at[0] = px[0] - mean(r, up[0])
		at[1] = px[1] - mean(g, up[1])
		at[2] = px[2] - mean(b, up[2])
		r, g, b = px[0], px[1], px[2]
	}
	return to
}

func mean(a, b byte) byte { return byte((uint32(a) + uint32(b)) / 2) }
