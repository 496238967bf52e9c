package shader

import (
	"threeply/proof/pigment"
	"threeply/wasm/page/view"
)

// Kinds are the kinds that pictures are drawn with. Their shaders are compiled as the page is
// built (tools/bundle); any other is compiled when it is first asked for, which takes a while.
func Kinds() []Kind {
	one := make([][2]pigment.Printer, 0, 3)
	two := make([][2]pigment.Printer, 0, 6)
	for a := range pigment.Printer(3) {
		one = append(one, [2]pigment.Printer{a})
		for b := range pigment.Printer(3) {
			if a != b {
				two = append(two, [2]pigment.Printer{a, b})
			}
		}
	}
	masked := []Kind{{}, {Masked: true}}
	compared := append(masked, Kind{Another: true}, Kind{Another: true, Masked: true}, Kind{Another: true, AnotherMasked: true}, Kind{Another: true, Masked: true, AnotherMasked: true})
	var all []Kind
	for shows := range view.Pictures {
		plates, ways := [][2]pigment.Printer{{}}, masked
		switch shows {
		case view.ShowsEdges:
			plates = two
		case view.ShowsPlate, view.ShowsLosses:
			plates = one
		case view.ShowsDifference:
			ways = compared
		}
		for _, plate := range plates {
			for _, k := range ways {
				k.Shows, k.A, k.B = shows, plate[0], plate[1]
				for _, k.Bent = range []bool{false, true} {
					for _, k.Wide = range []bool{false, true} {
						all = append(all, k)
					}
				}
			}
		}
	}
	return all
}
