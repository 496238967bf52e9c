package app

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"threeply/proof/affine"
	"threeply/proof/desk"
	"threeply/proof/levels"
	"threeply/proof/picture/picturetest"
	"threeply/proof/pigment"
	"threeply/proof/plate"
	"threeply/proof/register"
	"threeply/proof/registration"
	"threeply/proof/session"
	"threeply/wasm/page/model"
	"threeply/wasm/page/view"
)

// page is the program as the page's scripts see it.
type page struct {
	*App
	t testing.TB
}

// opened opens three small plates, as the scripts do it, on a stage of 800 × 500.
func opened(t testing.TB) *page {
	t.Helper()
	a := New()
	if err := a.Prepare(func() {}); err != nil {
		t.Fatal(err)
	}
	p := &page{a, t}
	p.Resize(view.Stage{W: 800, H: 500, Ratio: 1})
	p.open("one", false)
	return p
}

// open drops three plates and answers what the desk orders. content stands for what is
// in their files.
func (p *page) open(content string, asked bool) {
	p.t.Helper()
	p.hear(`{"do":"bring","files":[{"key":"r","name":"red.tif","size":1},{"key":"g","name":"green.tif","size":1},{"key":"b","name":"blue.tif","size":1}]}`)
	token := p.ordered("open")
	s, _ := picturetest.Patches()
	s.Registered, s.Found, s.FoundKey = "none", session.New().Found, -1
	for i := range s.Sources {
		sum := sha256.Sum256(fmt.Append(nil, content, i))
		s.Sources[i].SHA256 = hex.EncodeToString(sum[:])
	}
	p.arrive(token)
	p.hear(`{"do":"opened","token":%d,"session":%q,"asked":%t}`, token, write(p.t, s), asked)
}

// hear tells the desk something, and has the page catch up.
func (p *page) hear(format string, args ...any) {
	p.t.Helper()
	p.must(p.Hear(fmt.Appendf(nil, format, args...)))
	p.CatchUp()
}

// ordered is the token of the work that the desk orders.
func (p *page) ordered(op string) desk.Token {
	p.t.Helper()
	var token desk.Token
	for _, o := range p.Desk.Orders() {
		if w, ok := o.(desk.Work); ok && w.Op == op {
			token = w.Token
		}
	}
	if token == 0 {
		p.t.Fatalf("no %s is ordered", op)
	}
	return token
}

func write(t testing.TB, s session.State) []byte {
	t.Helper()
	text, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// arrive brings the plates in, in parts.
func (p *page) arrive(token desk.Token) {
	_, planes := picturetest.Patches()
	for i, full := range planes {
		for l, one := range full.Pyramid(40) {
			const part = 3000 // codes
			for at := 0; at < len(one.Pix); at += part {
				end := min(at+part, len(one.Pix))
				pix := p.Desk.Arrive(token, i, l, one.W, one.H, 2*at, 2*(end-at))
				copy(pix[at:], one.Pix[at:end])
			}
		}
	}
}

func (p *page) must(err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatal(err)
	}
}

func (p *page) do(format string, args ...any) {
	p.t.Helper()
	p.must(p.Do(fmt.Appendf(nil, format, args...)))
}

// refuse does what is to be refused, and tells why.
func (p *page) refuse(text string) string {
	p.t.Helper()
	if err := p.Do([]byte(text)); err == nil {
		p.t.Errorf("%s is done", text)
	}
	messages := p.model().Messages
	if len(messages) == 0 || messages[len(messages)-1].Kind != "error" {
		p.t.Fatalf("%s is refused without a word", text)
	}
	return messages[len(messages)-1].Text
}

// model is what the page shows, as the scripts read it.
func (p *page) model() model.Model {
	p.t.Helper()
	text, err := p.Model()
	p.must(err)
	var m model.Model
	p.must(json.Unmarshal(text, &m))
	return m
}

// registered takes what a register would have found: the plates as scanned, the red one
// 3 to the right of the key.
func (p *page) registered() {
	p.t.Helper()
	p.hear(`{"do":"register"}`)
	var r registration.Registration
	for i := range r.Found {
		r.Found[i] = session.Found{Matrix: affine.Identity, Confidence: 0.95, Median: 0.1, P95: 0.2, Max: 0.4}
	}
	r.FoundKey = 1
	r.Found[0].Matrix = affine.Translate(3, 0)
	r.Left[0] = []register.Offset{{X: 40, Y: 50, DX: 0.5, Certainty: 1}, {X: 90, Y: 50, DX: 0.25, DY: 0.25, Certainty: 1}}
	r.Proposal = registration.Proposal{Key: "blue", Why: "it is sharper"}
	films := levels.Levels{Neutral: session.Neutral{By: session.ByLight, Light: "white-patch"}}
	for i, src := range p.Sources {
		films.Films[i] = src.Film
	}
	r.Levels = &films
	scale := films
	scale.Neutral = session.Neutral{By: session.ByScale, Key: p.Key, Greys: []session.Spot{{X: 40, Y: 50}, {X: 60, Y: 50}, {X: 80, Y: 50}}}
	r.Scale, r.Blur = &scale, [3]float64{0.8, 0.7, 0.9}
	text, err := json.Marshal(r)
	p.must(err)
	p.hear(`{"do":"registered","token":%d,"found":%q}`, p.ordered("register"), text)
}

func TestOpenedPlatesAreShown(t *testing.T) {
	p := opened(t)
	m := p.model()
	if !m.Ready || len(m.Plates.Plates) != 3 || m.Registered != "none" || m.Pulls["register"] != "not registered yet" {
		t.Errorf("ready %t, %d plates, registered %q, “%s”", m.Ready, len(m.Plates.Plates), m.Registered, m.Pulls["register"])
	}
	if len(m.Frames) != 2 || m.Frames[0].ID != "reference" || m.Frames[1].W != 370 {
		t.Errorf("the frames are %+v", m.Frames)
	}
	if m.Undo != "" {
		t.Errorf("nothing was done, and “%s” can be undone", m.Undo)
	}
	p.registered()
	m = p.model()
	if m.Undo != "" || m.Registered != "auto" || m.Register.Proposal == nil || m.Register.Proposal.Key != "blue" || !m.Left.Have {
		t.Errorf("after the first register: undo %q, %q, proposal %v, residual %t", m.Undo, m.Registered, m.Register.Proposal, m.Left.Have)
	}
	p.do(`{"do":"assign","filter":"red","source":2}`)
	if m := p.model(); m.Register.Proposal != nil {
		t.Error("a key is proposed of plates that were assigned otherwise")
	}
}

// While the plates of the demonstration set are opened, all prints are worked out that its first picture
// will need, though it is looked at otherwise than one's own plates.
func TestAheadOfTheDemo(t *testing.T) {
	p := &page{New(), t}
	p.must(p.Prepare(func() {}))
	p.Resize(view.Stage{W: 800, H: 500, Ratio: 1})
	p.hear(`{"do":"demo"}`)
	var token desk.Token
	for _, o := range p.Desk.Orders() {
		if f, ok := o.(desk.FetchDemo); ok {
			token = f.Token
		}
	}
	pieces := 0
	for p.Ahead() {
		if pieces++; pieces > 1000 {
			t.Fatal("it does not end")
		}
	}
	p.hear(`{"do":"demoFetched","token":%d,"files":[{"key":"r","name":"red.tif","size":1},{"key":"g","name":"green.tif","size":1},{"key":"b","name":"blue.tif","size":1}]}`, token)
	s, _ := picturetest.Patches()
	s.Registered, s.Found, s.FoundKey = "none", session.New().Found, -1
	token = p.ordered("open")
	if said := p.model().Pulls["plates"]; said != "opening …" {
		t.Errorf("while they are opened, of the plates is said: %q", said)
	}
	p.arrive(token)
	p.must(p.Hear(fmt.Appendf(nil, `{"do":"opened","token":%d,"session":%q,"asked":false}`, token, write(t, s))))
	if p.View.Look != "palettes" || pieces < 3 {
		t.Errorf("%d pieces were worked out ahead for the look %q", pieces, p.View.Look)
	}
	left := 0
	for p.Ahead() && left < 10 {
		left++
	}
	if left != 3 { // the films, and the curves of both prints for them
		t.Errorf("once the plates are there, %d pieces are left", left)
	}
}

func TestWhatIsDoneIsShownAndUndone(t *testing.T) {
	p := opened(t)
	p.registered()
	was := p.model()
	p.do(`{"do":"palette","id":%q}`, was.Palettes[1].ID)
	p.do(`{"do":"nudgeBy","printer":"cyan","dxUm":40,"dyUm":0,"gesture":"g1"}`)
	p.do(`{"do":"nudgeBy","printer":"cyan","dxUm":40,"dyUm":0,"gesture":"g1"}`)
	m := p.model()
	if !m.Palettes[1].Chosen || m.Register.Rows[0].Offset.DXUm != 80 || m.Undo != "offset" {
		t.Errorf("chosen %t, offset %g, undo %q", m.Palettes[1].Chosen, m.Register.Rows[0].Offset.DXUm, m.Undo)
	}
	if m.Section == was.Section {
		t.Error("the section is not cut anew")
	}
	p.do(`{"do":"undo"}`)
	p.do(`{"do":"undo"}`)
	m = p.model()
	if m.Palettes[1].Chosen != was.Palettes[1].Chosen || m.Register.Rows[0].Offset.DXUm != 0 || m.Redo != "palette" {
		t.Errorf("undone: chosen %t, offset %g, redo %q", m.Palettes[1].Chosen, m.Register.Rows[0].Offset.DXUm, m.Redo)
	}
	p.do(`{"do":"redo"}`)
	if !p.model().Palettes[1].Chosen {
		t.Error("the palette is not redone")
	}
}

// The head speaks of offsets on the print from what the eye sees on, and of the scans else.
func TestOffsetsAreToldInTheHead(t *testing.T) {
	p := opened(t)
	p.registered()
	scans := p.model().Pulls["register"]
	for _, c := range []struct {
		um   float64
		want string
	}{{3, scans}, {900, "layers off by 903 µm"}, {1500, "layers off by 2.40 mm"}, {-2403, scans}} {
		p.do(`{"do":"nudgeBy","printer":"cyan","dxUm":%g,"dyUm":0}`, c.um)
		if got := p.model().Pulls["register"]; got != c.want {
			t.Errorf("moved by %g µm more, the head says “%s”, want “%s”", c.um, got, c.want)
		}
	}
}

func TestWhatIsRefusedIsSaid(t *testing.T) {
	p := opened(t)
	for text, want := range map[string]string{
		`{"do":"palette","id":"moon"}`:           "moon",
		`{"do":"look","id":"sideways"}`:          "sideways",
		`{"do":"fly"}`:                           "fly",
		`{"do":"pan","dx":1,"dy":1,"dz":1}`:      "dz",
		`{"do":"pinAt","x":1}`:                   "“y” is missing",
		`{"do":"undo","twice":true}`:             "twice",
		`{"do":"pinBy","filter":"green","sx":1}`: "sx",
		`{"do":"pinBy","filter":"infra","dx":1}`: "infra",
		`nothing`:                                "no JSON",
		`{"do":"worst"}`:                         "register the plates first",
		`{"do":"print","widthMm":-5}`:            "-5",
	} {
		if said := p.refuse(text); !strings.Contains(said, want) {
			t.Errorf("%s: “%s”, want “…%s…”", text, said, want)
		}
	}
}

func TestMessages(t *testing.T) {
	p := opened(t)
	for _, text := range []string{"a", "b", "a", "c", "d"} {
		p.Desk.Tell(text)
	}
	m := p.model()
	if len(m.Messages) != 3 || m.Messages[0].Text != "a" || m.Messages[2].Text != "d" {
		t.Errorf("the messages are %v", m.Messages)
	}
	p.hear(`{"do":"dismiss","message":%d}`, m.Messages[1].ID)
	if left := p.model().Messages; len(left) != 2 || left[1].Text != "d" {
		t.Errorf("after c was dismissed they are %v", left)
	}
	token := p.Desk.Begin(desk.Exporting, "Rendering the print")
	p.Desk.Progress(token, 0.5, "")
	if jobs := p.model().Jobs; len(jobs) != 2 || jobs[1].Share != 0.5 || jobs[1].Words != "Rendering the print" {
		t.Errorf("the jobs are %v", jobs)
	}
}

// A plate that does not arrive whole is not opened, and what was open stays.
func TestPlatesThatDidNotArrive(t *testing.T) {
	p := opened(t)
	p.do(`{"do":"title","text":"Quinces"}`)
	p.hear(`{"do":"bring","files":[{"key":"r","name":"red.tif","size":1}]}`)
	token := p.ordered("open")
	p.Desk.Arrive(token, 0, 0, 160, 160, 0, 51200)
	s, _ := picturetest.Patches()
	p.hear(`{"do":"opened","token":%d,"session":%q,"asked":false}`, token, write(t, s))
	if said := p.model().Messages; len(said) != 1 || !strings.Contains(said[0].Text, "green.tif: its picture did not arrive whole") {
		t.Errorf("said is %v", said)
	}
	if m := p.model(); m.Title != "Quinces" || !m.Ready {
		t.Error("what was open is gone")
	}
}

func TestOpenASession(t *testing.T) {
	p := opened(t)
	s := p.State
	s.Title = "Quinces"
	p.hear(`{"do":"openSession","name":"quinces.json","text":%q}`, write(t, s))
	if m := p.model(); m.Title != "Quinces" || m.Undo != "opened session" {
		t.Errorf("opened: %q, undo %q", m.Title, m.Undo)
	}
	s.Sources[1].File, s.Sources[1].SHA256 = "other.tif", ""
	err := p.Hear(fmt.Appendf(nil, `{"do":"openSession","name":"other.json","text":%q}`, write(t, s)))
	if said := p.model().Messages; err != nil || !strings.HasPrefix(said[len(said)-1].Text, "other.json is a session of other scans") {
		t.Errorf("a session of other plates: %v, %v", err, said)
	}
}

// A session with its scans shows itself as it was looked at when it was saved, on scans that are
// open already, too.
func TestOpenASessionAsItWasLookedAt(t *testing.T) {
	p := opened(t)
	p.must(p.Do([]byte(`{"do":"look","id":"difference"}`)))
	text, sight := write(t, p.State), p.View.Keep()
	p.must(p.Do([]byte(`{"do":"look","id":"beside"}`)))
	packed := func(name, sight string) {
		t.Helper()
		p.hear(`{"do":"openPacked","name":%q,"text":%q,"files":[{"key":"x","name":"red.tif","size":1},{"key":"y","name":"green.tif","size":1},{"key":"z","name":"blue.tif","size":1}],"notes":[],"sight":%q}`, name, text, sight)
		token := p.ordered("open")
		p.arrive(token)
		p.hear(`{"do":"opened","token":%d,"session":%q,"asked":false}`, token, text)
	}
	if packed("saved.zip", string(sight)); p.View.Look != "difference" {
		t.Errorf("what was saved as difference is looked at as %s", p.View.Look)
	}
	p.must(p.Do([]byte(`{"do":"look","id":"beside"}`)))
	if packed("other.zip", `{"look":"unheard of"}`); p.View.Look != "beside" {
		t.Errorf("a sight that is none is looked at as %s", p.View.Look)
	}
	// Without its scans, too.
	alone, err := session.WriteFile(p.State, &session.Written{By: "Threeply v1", At: "2026-03-02T10:20:00Z", Sight: string(sight)})
	if err != nil {
		t.Fatal(err)
	}
	if p.hear(`{"do":"openSession","name":"saved.json","text":%q}`, alone); p.View.Look != "difference" {
		t.Errorf("a session without its scans is looked at as %s", p.View.Look)
	}
	// One that waits for its scans changes nothing of those that are open.
	p.must(p.Do([]byte(`{"do":"look","id":"beside"}`)))
	other := p.State
	for i := range other.Sources {
		other.Sources[i].File, other.Sources[i].SHA256 = fmt.Sprintf("other-%d.tif", i), strings.Repeat(fmt.Sprint(i), 64)
	}
	alone, err = session.WriteFile(other, &session.Written{Sight: string(sight)})
	if err != nil {
		t.Fatal(err)
	}
	if p.hear(`{"do":"openSession","name":"other.json","text":%q}`, alone); p.View.Look != "beside" {
		t.Errorf("a session that waits has what is open looked at as %s", p.View.Look)
	}
}

// What the desk hears waits for whatever looks at the prints, and is worked out once.
func TestCatchUp(t *testing.T) {
	p := opened(t)
	s := p.State
	s.Palette = "earth"
	before := p.Prints.Likely().Printing
	p.must(p.Hear(fmt.Appendf(nil, `{"do":"openSession","name":"earth.json","text":%q}`, write(t, s))))
	if p.State.Palette != "earth" || p.Prints.Likely().Printing != before {
		t.Error("the prints are worked out as the desk hears")
	}
	if !p.CatchUp() || p.Prints.Likely().Printing == before {
		t.Error("they are not worked out then")
	}
	if p.CatchUp() {
		t.Error("they are worked out twice")
	}
}

// Other scans of the same names keep the tissues, not the marks; the set before is put
// away and had back as it was looked at.
func TestOpeningOtherScans(t *testing.T) {
	p := opened(t)
	first := p.Desk.Open().ID
	p.do(`{"do":"paper","id":"cream"}`)
	p.do(`{"do":"pin","source":1,"x":20,"y":20}`)
	p.do(`{"do":"station","id":"register"}`)
	p.Keep()
	p.open("two", true)
	m := p.model()
	if m.Paper != "cream" || len(m.Marks.Marks) != 0 || !m.Ask || m.Undo != "" || p.Desk.Open().ID == first {
		t.Errorf("paper %s, %d marks, ask %t, undo %q", m.Paper, len(m.Marks.Marks), m.Ask, m.Undo)
	}
	if len(m.Messages) != 1 || m.Messages[0].Act == nil || m.Messages[0].Act.Do != "restore" || len(m.Kept) != 2 {
		t.Errorf("said is %v, kept are %d", m.Messages, len(m.Kept))
	}
	if m.Station != "plates" || m.Pulls["plates"] != "which plate is which?" {
		t.Errorf("which plate is which is asked in the drawer of %q, behind %q", m.Station, m.Pulls["plates"])
	}
	p.do(`{"do":"assign","filter":"red","source":0}`) // as it is: the user finds it right
	if m = p.model(); m.Ask || !strings.HasPrefix(m.Pulls["plates"], "3 plates") {
		t.Errorf("the plates are still asked for: %q", m.Pulls["plates"])
	}
}

// The section is as high as its layers: along the grey scale in the first column of the
// patches, from black at the top to white.
func TestCut(t *testing.T) {
	p := opened(t)
	p.registered()
	p.do(`{"do":"print","widthMm":159}`) // a pixel is a millimetre and 1/159 more
	p.do(`{"do":"section","x0":0.06,"y0":0.06,"x1":0.06,"y1":0.94}`)
	s := p.Cut(50)
	want := 0.88 * 159 * p.PixelMicrons() / 1000
	if math.Abs(s.LengthMm-want) > 1e-9 || len(s.Um[2]) != 50 {
		t.Errorf("%d places over %g mm, want 50 over %g", len(s.Um[2]), s.LengthMm, want)
	}
	most := 0.0
	for j := range s.Um[0] {
		most = max(most, float64(s.Um[0][j]+s.Um[1][j]+s.Um[2][j]))
	}
	if math.Abs(most-s.MostUm) > 1e-4 || s.MostUm < 1 {
		t.Errorf("the highest place is %g µm, said to be %g", most, s.MostUm)
	}
	if top, bottom := s.Um[1][0], s.Um[1][49]; !(top > 4*bottom) {
		t.Errorf("black is %g µm high, white %g", top, bottom)
	}
	p.do(`{"do":"hide","printer":"magenta","hidden":true}`)
	if s := p.Cut(50); s.Um[1][0] != 0 || s.Um[0][0] == 0 {
		t.Errorf("hidden, magenta is %g µm high, yellow %g", s.Um[1][0], s.Um[0][0])
	}
}

func TestSmallAndThumb(t *testing.T) {
	p := opened(t)
	small, ok := p.Small()
	if !ok || small.Level != 1 || small.Planes[0].W != 80 || small.Frame != p.View.Shown {
		t.Errorf("small is level %d, %d wide, %t", small.Level, small.Planes[0].W, ok)
	}
	w, h, rgba, ok := p.Thumb(1)
	if !ok || w != 40 || h != 40 || len(rgba) != 4*w*h {
		t.Errorf("the thumbnail is %d × %d, %d bytes", w, h, len(rgba))
	}
	lightest := plate.Lightest(p.Plates[0][2], p.Plates[1][2], p.Plates[2][2])
	d := (float64(p.Plates[1][2].Pix[0]) - float64(lightest)) * 4 / 65535
	if got, want := float64(rgba[0]), 255*math.Pow(10, -max(d, 0)/2.2); math.Abs(got-want) > 0.51 || rgba[3] != 255 {
		t.Errorf("density %g is shown as %g, want %g", d, got, want)
	}
	if _, _, _, ok := p.Thumb(3); ok {
		t.Error("there is a fourth plate")
	}
}

// Plates that are open before the prints are prepared, as kept work may be, are shown as
// those that come later.
func TestPlatesBeforeThePrints(t *testing.T) {
	want := opened(t)
	p := &page{New(), t}
	p.Resize(view.Stage{W: 800, H: 500, Ratio: 1})
	pauses := 0
	p.must(p.Prepare(func() {
		if pauses++; pauses == 1 {
			p.open("one", false)
		}
	}))
	if pauses < 2 {
		t.Fatalf("%d pauses", pauses)
	}
	one, other := want.model(), p.model()
	if !other.Ready || !reflect.DeepEqual(one.Frames, other.Frames) || !reflect.DeepEqual(one.Palettes, other.Palettes) {
		t.Errorf("ready %t, frames %+v, want %+v", other.Ready, other.Frames, one.Frames)
	}
	if p.Prints.Likely().Serial == 0 || p.Prints.Likely().Table[9] != want.Prints.Likely().Table[9] {
		t.Error("another print is shown")
	}
}

func TestBeforePlatesAreOpen(t *testing.T) {
	a := New()
	if err := a.Prepare(func() {}); err != nil {
		t.Fatal(err)
	}
	p := &page{a, t}
	for _, l := range view.Looks {
		p.do(`{"do":"look","id":%q}`, l.ID)
		p.do(`{"do":"zoom","by":2}`)
		p.do(`{"do":"point","x":100,"y":100}`)
		p.do(`{"do":"pinAt","x":100,"y":100}`)
		p.do(`{"do":"pinHere"}`)
		p.do(`{"do":"loupe","on":true}`)
		p.do(`{"do":"markGo","n":4}`)
		if m := p.model(); m.Ready || len(m.Frames) != 0 || m.Sample != nil {
			t.Errorf("%s: ready %t, %d frames", l.ID, m.Ready, len(m.Frames))
		}
	}
	if _, ok := p.Small(); ok || p.Seek() != nil || p.Cut(10).MostUm != 0 || p.Desk.Bytes() != 0 {
		t.Error("something is made of plates that are not there")
	}
	p.Fill()
}

// Every pigment whose classes are known, by name or by its ASTM category, says how long it lasts.
func TestPigmentsSayHowLongTheyLast(t *testing.T) {
	named, taken := 0, 0
	for _, p := range PigmentTable() {
		g, _ := pigment.PigmentByCI(p.CI)
		classes, known := g.Classes()
		by := "(blue wool,"
		if g.BlueWool == (pigment.BlueWool{}) {
			by = fmt.Sprintf("(taken as blue wool %g–%g,", classes.Least, classes.Most)
		}
		if known != strings.Contains(p.OnShow, by) {
			t.Errorf("%s, of the classes %v: %q", p.CI, classes, p.OnShow)
		}
		if known && by == "(blue wool," {
			named++
		} else if known {
			taken++
		}
	}
	if named == 0 || taken == 0 {
		t.Errorf("%d by the classes they name, %d by their category", named, taken)
	}
}
