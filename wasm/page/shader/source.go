package shader

import (
	_ "embed"
	"fmt"
	"strings"

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

// Fragment is the function of the shader of a picture that Kage calls for each pixel.
func Fragment(shows view.Shows) string { return fmt.Sprintf(fragment, entry[shows]) }

// Source is the shader of one picture in Kage: what of proof.kage that picture needs, which
// is found beforehand (runs), for that takes a while. One for all would compute every
// picture at every pixel on cards that do not branch.
func Source(shows view.Shows) []byte {
	var b strings.Builder
	b.WriteString("//kage:unit pixels\n\npackage main\n")
	for _, run := range runs[shows] {
		fmt.Fprintf(&b, "\n%s\n", all[run[0]:run[1]])
	}
	b.WriteString(Fragment(shows))
	return []byte(b.String())
}
