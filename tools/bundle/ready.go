package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"threeply/wasm/page/shader"
)

// Ebitengine compiles shaders from their source in Kage as the program starts, and can do it in
// no other way: that takes some tenths of a second, and has the browser optimise a compiler of
// which each function runs but a few times, for seconds. The page is built with a copy of the
// library that takes shaders which are compiled already, and compiles those that it does not know.
// The copy also lets the page live while the browser links a shader for the graphics card: the
// library waits by asking over and over, in which time nothing else of the page can run. And its
// canvas follows the page where that is zoomed. Two of its packages, which Go initializes between breath
// and midway (wasm/page/breath), give the page's thread back there: this module's other packages come
// too late for that.

const library = "github.com/hajimehoshi/ebiten/v2"

//go:embed ready/main.go.txt
var compiler []byte

// change is one in a file of the library: what stands there before and after it.
type change struct{ file, from, to string }

// changes are those by which the library takes shaders that are ready; additions are whole files.
var changes = []change{
	{"internal/graphics/shader.go", "\nfunc CompileShader(", "\nfunc compileShader("},
	{"internal/shaderir/glsl/glsl.go", "\nfunc Compile(", "\nfunc compileProgram("},
	{"internal/shaderir/program.go", "\n\tuniformFactors []uint32\n}", "\n\tuniformFactors []uint32\n\tready [2]string\n}"},
	{"internal/graphicsdriver/opengl/shader.go", "\t\"runtime\"\n", "\t\"time\"\n"},
	{"internal/graphicsdriver/opengl/shader.go", waits, waitsAside},
	{"internal/ui/ui_js.go", scaleKept, scaleAsked},
	{"internal/graphicsdriver/opengl/gl/default_js.go", "(v js.Value) (Context, error) {\n", "(v js.Value) (Context, error) {\n\tcard = v\n"},
}

// scaleKept is where the library sizes its canvas, by the device pixels that a CSS pixel had as the
// program started; scaleAsked has it ask anew, for the user may have zoomed the page meanwhile, or
// taken it to another screen.
const (
	scaleKept  = "\t\tf := theMonitor.DeviceScaleFactor()\n"
	scaleAsked = "\t\ttheMonitor.deviceScaleFactor = 0\n" + scaleKept
)

// waits is how the library waits for the link: in the browser's task, which goes on until then.
const waits = `
		for s.graphics.context.ctx.GetShaderi(uint32(vs), gl.COMPLETION_STATUS_KHR) != gl.TRUE ||
			s.graphics.context.ctx.GetShaderi(uint32(fs), gl.COMPLETION_STATUS_KHR) != gl.TRUE {
			runtime.Gosched()
		}
	}
`

// waitsAside gives the task back, and asks in a way that does not wait for the graphics card; what the
// library asks then does wait for it, so that begins when the card rests. The functions of the page
// that scripts call run meanwhile; none of them draws.
const waitsAside = `
		for s.graphics.context.ctx.GetProgrami(uint32(p), gl.COMPLETION_STATUS_KHR) != gl.TRUE {
			time.Sleep(4 * time.Millisecond)
		}
	} else if card, ok := s.graphics.context.ctx.(interface{ Settle(uint32) }); ok {
		card.Settle(uint32(p))
	}
	if card, ok := s.graphics.context.ctx.(interface{ Rest() }); ok {
		card.Rest()
	}
`

// breathIn is a file of a package with which its initialization gives the page's thread back.
func breathIn(name string) string {
	return "package " + name + `

import "syscall/js"

func init() {
	taken := make(chan struct{})
	wake := js.FuncOf(func(js.Value, []js.Value) any { close(taken); return nil })
	defer wake.Release()
	js.Global().Call("setTimeout", wake, 0)
	<-taken
}
`
}

var additions = map[string]string{
	"internal/graphics/known.go": `package graphics

import "github.com/hajimehoshi/ebiten/v2/internal/shaderir"

// readyShader is a shader that is compiled: hash is that of its source.
type readyShader struct {
	hash             string
	program          shaderir.Program
	used             []uint32
	vertex, fragment string
}

func CompileShader(source []byte) (*shaderir.Program, error) {
	hash := shaderir.CalcSourceHash(source)
	for i := range readyShaders {
		if r := &readyShaders[i]; r.hash == string(hash[:]) {
			r.program.SetReady(r.used, r.vertex, r.fragment)
			return &r.program, nil
		}
	}
	return compileShader(source)
}
`,
	"internal/shaderir/known.go": `package shaderir

// SetReady says which dwords of the uniforms are used (1 or 0 for each), and the program's text
// for the graphics card.
func (p *Program) SetReady(used []uint32, vertex, fragment string) {
	p.uniformFactors, p.ready = used, [2]string{vertex, fragment}
}

// Ready is what SetReady was told; "" where nothing was.
func (p *Program) Ready() (vertex, fragment string) { return p.ready[0], p.ready[1] }
`,
	"internal/shaderir/glsl/known.go": `package glsl

import "github.com/hajimehoshi/ebiten/v2/internal/shaderir"

func Compile(p *shaderir.Program, version GLSLVersion) (vertex, fragment string) {
	if vertex, fragment = p.Ready(); vertex != "" && version == GLSLVersionES300 {
		return vertex, fragment
	}
	return compileProgram(p, version)
}
`,
	"internal/graphicsdriver/opengl/gl/settle_js.go": `package gl

import (
	"syscall/js"
	"time"
)

var card js.Value // the context that draws

// Settle returns once the graphics card has done all that it was given and linked a program, and
// leaves the browser its time until then. It is for cards without KHR_parallel_shader_compile.
// Some link aside, behind what they are given next: only to validate the program waits for that.
func (c *defaultContext) Settle(program uint32) {
	card.Call("validateProgram", c.programs.get(program))
	answered()
}

// patience is how long Rest waits yet, for all programs together.
var patience = 300 * time.Millisecond

// Rest returns once the graphics card answers at once, or patience is spent. The card draws the page
// too, which takes some tenths of a second where a processor stands in for it: whoever asks meanwhile
// waits as long, and the page with him.
func (c *defaultContext) Rest() {
	const atOnce = 15 * time.Millisecond
	for patience > 0 {
		asked := time.Now()
		rests := !answered() || time.Since(asked) < atOnce
		patience -= time.Since(asked)
		if rests {
			return
		}
	}
}

// answered leaves the browser its time until the graphics card has done all that it was given; false
// where it is lost.
func answered() bool {
	const gpuCommandsComplete, syncStatus, unsignaled = 0x9117, 0x9114, 0x9118 // of WebGL 2
	fence := card.Call("fenceSync", gpuCommandsComplete, 0)
	if fence.IsNull() {
		return false
	}
	card.Call("flush")
	for card.Call("getSyncParameter", fence, syncStatus).Equal(js.ValueOf(unsignaled)) {
		time.Sleep(4 * time.Millisecond)
	}
	card.Call("deleteSync", fence)
	return true
}
`,
	"internal/gamepad/breath_js.go":               breathIn("gamepad"),
	"internal/graphicsdriver/opengl/breath_js.go": breathIn("opengl"),
	readyTable: "package graphics\n\nvar readyShaders [0]readyShader\n",
}

const readyTable = "internal/graphics/ready.go"

// readyFolder holds the copy while the page is built: always the same folder, so that Go need not
// compile what it has compiled before.
const readyFolder = ".build/library"

// readyLibrary makes the copy of the library in a folder of the checkout, and gives the file for
// go build's flag -modfile with which the page is built with it.
func readyLibrary(folder string) (string, error) {
	if err := os.RemoveAll(folder); err != nil {
		return "", err
	}
	copied := filepath.Join(folder, "v2")
	if err := copyLibrary(copied); err != nil {
		return "", err
	}
	for _, c := range changes {
		if err := c.make(copied); err != nil {
			return "", err
		}
	}
	for name, text := range additions {
		if err := os.WriteFile(filepath.Join(copied, name), []byte(text), 0o644); err != nil {
			return "", err
		}
	}
	modules, err := modulesWith(folder, copied)
	if err != nil {
		return "", err
	}
	table, err := compiledShaders(copied, modules)
	if err != nil {
		return "", err
	}
	return modules, os.WriteFile(filepath.Join(copied, readyTable), table, 0o644)
}

// make makes the change in a copy of the library.
func (c change) make(copied string) error {
	path := filepath.Join(copied, c.file)
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if n := strings.Count(string(text), c.from); n != 1 {
		return fmt.Errorf("%s of this %s has %q %d times: tools/bundle/ready.go was made for another version", c.file, library, strings.TrimSpace(c.from), n)
	}
	const told = "\n// This file was changed for Threeply (tools/bundle/ready.go).\n" // as the library's licence asks
	changed := strings.TrimSuffix(strings.Replace(string(text), c.from, c.to, 1), told) + told
	return os.WriteFile(path, []byte(changed), 0o644)
}

// copyLibrary copies of the library what the page is built of.
func copyLibrary(to string) error {
	if err := run(exec.Command("go", "mod", "download", library)); err != nil {
		return err
	}
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", library).Output()
	if err != nil {
		return fmt.Errorf("go list -m %s: %w", library, err)
	}
	from := strings.TrimSpace(string(out))
	return filepath.WalkDir(from, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if top := filepath.Dir(name) == "."; top && name != "." && name != "internal" {
				return fs.SkipDir
			}
			return os.MkdirAll(filepath.Join(to, name), 0o755)
		}
		if strings.HasSuffix(name, "_test.go") {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, name), text, 0o644)
	})
}

// modulesWith writes go.mod and go.sum into a folder, with the copy in place of the library.
func modulesWith(folder, copied string) (string, error) {
	for _, name := range []string{"go.mod", "go.sum"} {
		text, err := os.ReadFile(name)
		if err != nil {
			return "", err
		}
		if name == "go.mod" {
			// from the top of the checkout, for the program keeps this path
			text = fmt.Appendf(text, "\nreplace %s => ./%s\n", library, filepath.ToSlash(copied))
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o644); err != nil {
			return "", err
		}
	}
	return filepath.Join(folder, "go.mod"), nil
}

// compiledShaders is the table of all shaders that the page draws with, as Go.
func compiledShaders(copied, modules string) ([]byte, error) {
	const name = "internal/ready"
	if err := os.MkdirAll(filepath.Join(copied, name), 0o755); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(copied, name, "main.go"), compiler, 0o644); err != nil {
		return nil, err
	}
	var sources []string
	for _, kind := range shader.Kinds() {
		sources = append(sources, string(shader.Source(kind)))
	}
	text, err := json.Marshal(sources)
	if err != nil {
		return nil, err
	}
	command := exec.Command("go", "run", "-modfile", modules, library+"/"+name)
	command.Stdin, command.Stderr = bytes.NewReader(text), os.Stderr
	table, err := command.Output()
	if err != nil {
		return nil, fmt.Errorf("compiling the shaders: %w", err)
	}
	return table, nil
}
