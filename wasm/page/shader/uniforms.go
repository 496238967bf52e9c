package shader

import (
	"reflect"
	"unsafe"

	"threeply/proof/affine"
)

// The kinds of values that the shader knows beside whole numbers.
type (
	Vec2 [2]float32
	Vec3 [3]float32
	Vec4 [4]float32
	Mat3 [9]float32 // column by column
)

// Uniforms are what the shader is told of a pane, in the order in which it declares
// them. Arrays of three are by printer: yellow, magenta, cyan.
type Uniforms struct {
	// To, three rows for x and three for y, takes the screen's pixel (centres at whole
	// numbers) to the pixel of each printer's window; where plates are bent it takes
	// the key's pixel, to which Key takes the screen's and to which BendX and BendY add a
	// register.Local over a key of Frame + 1 pixels: terms 0 to 3 and 4 to 6 of each.
	To [6]Vec3
	// Also is what stands in its place for the reference, which offsets on the print
	// leave alone, in a pane that shows both: in place of To, or of Key where plates are bent.
	Also [6]Vec3
	// the first and the last pixel of the plate, in the window's pixels
	Extent [3]Vec4
	// the window's size
	Size [3]Vec2
	// 0 where a layer is hidden
	Shown Vec3

	Key   [6]Vec3
	BendX [6]Vec4
	BendY [6]Vec4
	Frame Vec2

	// what masks the tones, and what masks those of another print
	Masks        Mat3
	AnotherMasks Mat3

	// for showsReach: the ends of the print's scale in CIELAB, and the L* of the lightest
	// colour that can be printed
	Paper    Vec3
	Depth    Vec3
	Lightest float32

	// the ends of the scale that one plate is drawn between; for showsLosses the codes
	// between which the layer is lost, and those between which it is blocked; tones behind
	// the masks where the print is masked
	Tones Vec4
}

// Named are the uniforms by their names, as the graphics library takes them: slices of u's
// own numbers, which follow what is written to u.
func (u *Uniforms) Named() map[string]any {
	out := map[string]any{}
	v := reflect.ValueOf(u).Elem()
	for i := range v.NumField() {
		f := v.Field(i)
		at, n := f.Addr().UnsafePointer(), int(f.Type().Size()/4)
		if f.Kind() == reflect.Int32 {
			out[v.Type().Field(i).Name] = unsafe.Slice((*int32)(at), n)
		} else {
			out[v.Type().Field(i).Name] = unsafe.Slice((*float32)(at), n)
		}
	}
	return out
}

// PutRows writes a matrix for a printer into three rows for x and three for y.
func PutRows(rows *[6]Vec3, printer int, m affine.Matrix) {
	for k := range 3 {
		rows[printer][k], rows[3+printer][k] = float32(m[k]), float32(m[3+k])
	}
}

// PutTerms writes the seven terms of a bend for a printer.
func PutTerms(terms *[6]Vec4, printer int, c [7]float64) {
	for k, v := range c {
		terms[2*printer+k/4][k%4] = float32(v)
	}
}

// ToVec3 is a triple of larger numbers.
func ToVec3(v [3]float64) Vec3 { return Vec3{float32(v[0]), float32(v[1]), float32(v[2])} }
