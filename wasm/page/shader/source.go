package shader

import (
	_ "embed"
	"fmt"
	"strings"

	"threeply/proof/pigment"
	"threeply/wasm/page/view"
)

//go:embed proof.kage
var all string

// entry names the function of proof.kage that makes a picture.
var entry = [...]string{
	view.ShowsReference: "showReference", view.ShowsPrint: "showPrint", view.ShowsEdges: "showEdges", view.ShowsDifference: "showDifference",
	view.ShowsPlate: "showPlate", view.ShowsReach: "showReach", view.ShowsLosses: "showLosses", view.ShowsOutside: "showOutside",
}

// fragment is what Kage calls for each pixel; %s is the entry.
const fragment = `
func Fragment(dstPos vec4, srcPos vec2, color vec4) vec4 {
	p := vec3(dstPos.xy-imageDstOrigin()-0.5, 1)
	return %s(p,
		place(p, To[0], To[3], Key[0], Key[3], BendX[0], BendX[1], BendY[0], BendY[1]),
		place(p, To[1], To[4], Key[1], Key[4], BendX[2], BendX[3], BendY[2], BendY[3]),
		place(p, To[2], To[5], Key[2], Key[5], BendX[4], BendX[5], BendY[4], BendY[5]))
}
`

// Kind is what a shader is made for: what is the same at every pixel and would else be asked
// at each, where a card that does not branch computes all answers.
type Kind struct {
	Shows         view.Shows
	A, B          pigment.Printer // the plates whose edges are shown; A is also the one that is shown alone
	Masked        bool            // Uniforms.Masks masks the tones
	Another       bool            // of ShowsDifference: it is one to another print, whose table lies below the print's own
	AnotherMasked bool            // Uniforms.AnotherMasks masks the tones of that
	Bent          bool            // a plate is shown through more than its matrix
	Wide          bool            // the canvas is Display P3
}

// consts declares what proof.kage asks of a kind.
func (k Kind) consts() string {
	number := func(on bool) int {
		if on {
			return 1
		}
		return 0
	}
	return fmt.Sprintf("\nconst plateA = %d\nconst plateB = %d\nconst masked = %d\nconst another = %d\nconst anotherMasked = %d\nconst bent = %d\nconst wide = %d\n",
		k.A, k.B, number(k.Masked), number(k.Another), number(k.AnotherMasked), number(k.Bent), number(k.Wide))
}

// Fragment is the function of the shader of a picture that Kage calls for each pixel.
func Fragment(shows view.Shows) string { return fmt.Sprintf(fragment, entry[shows]) }

// Source is the shader of a kind in Kage: what of proof.kage its picture needs, which is found
// beforehand (runs), for that takes a while.
func Source(k Kind) []byte {
	var b strings.Builder
	b.WriteString("//kage:unit pixels\n\npackage main\n" + k.consts())
	for _, run := range runs[k.Shows] {
		fmt.Fprintf(&b, "\n%s\n", all[run[0]:run[1]])
	}
	b.WriteString(Fragment(k.Shows))
	return []byte(b.String())
}
