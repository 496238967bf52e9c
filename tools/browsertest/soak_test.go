package browsertest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/chromedp"
)

// countsMemory keeps the program's memory where a test can see it, and counts the textures
// that lie on the graphics card.
const countsMemory = `(() => {
	window.textures = 0;
	const start = WebAssembly.instantiate;
	WebAssembly.instantiate = async (...how) => {
		const made = await start(...how);
		window.memory ??= made.exports.mem;
		return made;
	};
	const { createTexture, deleteTexture } = WebGL2RenderingContext.prototype;
	WebGL2RenderingContext.prototype.createTexture = function () { window.textures++; return createTexture.call(this); };
	WebGL2RenderingContext.prototype.deleteTexture = function (texture) { if (texture) window.textures--; return deleteTexture.call(this, texture); };
})()`

// taken is what a page takes: MB of the program's memory and of the scripts', and textures.
type taken struct {
	Program  float64 `json:"program"`
	Scripts  float64 `json:"scripts"`
	Textures float64 `json:"textures"`
}

// BenchmarkSoak opens, edits, looks and puts away, over and over, and reports by how much more
// the page takes at the end than after a tenth of it. It fails where the program's memory has
// grown by half of what the plates of all these sets take, or textures have piled up by one a
// set: either is less than what sets that are never let go of would take.
func BenchmarkSoak(b *testing.B) {
	ordinary(b)
	const sets, edits = 50, 20
	for b.Loop() {
		p := openBlank(b, windowWidth, windowHeight)
		p.before(countsMemory)
		p.navigate()
		p.waitReady()
		p.waitRegistered()
		random := rand.New(rand.NewPCG(14, 1))
		plates := pierPlates(b)
		var early taken
		for n := range sets {
			files := plates
			for i, file := range plates {
				files[i] = filepath.Join(b.TempDir(), fmt.Sprintf("set%d-%s", n%5, filepath.Base(file)))
				data, err := os.ReadFile(file)
				if err == nil { // readers pass over what follows the picture, by which one set is not the other
					err = os.WriteFile(files[i], append(data, byte(n%5)), 0o600)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
			p.drop(files[:]...)
			p.waitFor(fmt.Sprintf(`v.plates.every(q => q.file.startsWith("set%d-")) && v.registered === "auto" && v.idle`, n%5))
			for range edits {
				p.editOrLook(random)
			}
			p.rest()
			p.waitFor(idle)
			if n == sets/10 {
				early = p.taken()
			}
		}
		late := p.taken()
		b.Logf("after a tenth %+v, at the end %+v", early, late)
		set := 3 * 320 * 240 * 2 * 4. / 3 / 1e6 // MB of plates, with their ever smaller halves
		if grown := late.Program - early.Program; grown > sets*9/10*set/2 {
			b.Errorf("the program takes %.0f MB more", grown)
		}
		if grown := late.Textures - early.Textures; grown > sets*9/10 {
			b.Errorf("%.0f more textures lie on the graphics card", grown)
		}
		b.ReportMetric(late.Program-early.Program, "MB-program-growth")
		b.ReportMetric(late.Scripts-early.Scripts, "MB-scripts-growth")
		b.ReportMetric(late.Textures-early.Textures, "textures-growth")
		p.close()
	}
}

// editOrLook does one of the things that a user does over and over.
func (p *page) editOrLook(random *rand.Rand) {
	p.t.Helper()
	one := func(of ...string) string { return of[random.IntN(len(of))] }
	switch random.IntN(8) {
	case 0:
		p.command("palette", map[string]any{"id": one("earth", "arylide", "gamboge")})
	case 1:
		p.command("order", map[string]any{"order": one("ymc", "cmy", "mcy")})
	case 2:
		p.command("look", map[string]any{"id": one("beside", "divided", "difference", "losses", "edges")})
	case 3:
		p.command("undo", nil)
	case 4:
		p.command("zoom", map[string]any{"fit": true})
	case 5:
		p.command("station", map[string]any{"id": one("plates", "register", "tissues", "proof", "sheets", "")})
	default:
		p.command("nudge", map[string]any{"printer": one("yellow", "cyan"), "dxUm": float64(random.IntN(500))})
	}
}

// taken reads what the page takes, once the browser has collected what nobody holds.
func (p *page) taken() taken {
	p.t.Helper()
	p.do("a collection", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, heapprofiler.CollectGarbage, cdp.Empty{})
		return err
	}))
	return eval[taken](p, `({ program: memory.buffer.byteLength / 1e6, scripts: performance.memory.usedJSHeapSize / 1e6, textures: window.textures })`)
}
