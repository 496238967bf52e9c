package shader

import (
	"bytes"
	_ "embed"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"

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

// Source is the shader of one picture in Kage: what of proof.kage that picture needs. One
// for all would compute every picture at every pixel on cards that do not branch.
func Source(shows view.Shows) ([]byte, error) {
	text := all + fmt.Sprintf(fragment, entry[shows])
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, "proof.kage", text, parser.SkipObjectResolution) // Kage has the syntax of Go
	if err != nil {
		return nil, err
	}
	declared := map[string]ast.Decl{}
	for _, d := range parsed.Decls {
		for _, name := range namesOf(d) {
			declared[name] = d
		}
	}
	needed := map[ast.Decl]bool{}
	var need func(name string)
	need = func(name string) {
		d := declared[name]
		if d == nil || needed[d] {
			return
		}
		needed[d] = true
		ast.Inspect(d, func(n ast.Node) bool {
			if used, ok := n.(*ast.Ident); ok {
				need(used.Name)
			}
			return true
		})
	}
	need("Fragment")
	var b bytes.Buffer
	b.WriteString("//kage:unit pixels\n\npackage main\n")
	for _, d := range parsed.Decls {
		if needed[d] {
			fmt.Fprintf(&b, "\n%s\n", text[files.Position(d.Pos()).Offset:files.Position(d.End()).Offset])
		}
	}
	return b.Bytes(), nil
}

// namesOf are the names that a declaration declares.
func namesOf(d ast.Decl) []string {
	switch d := d.(type) {
	case *ast.FuncDecl:
		return []string{d.Name.Name}
	case *ast.GenDecl:
		var out []string
		for _, spec := range d.Specs {
			if v, ok := spec.(*ast.ValueSpec); ok {
				for _, name := range v.Names {
					out = append(out, name.Name)
				}
			}
		}
		return out
	}
	return nil
}
