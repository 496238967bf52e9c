package plate

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"threeply/proof/density"
	"threeply/proof/filter"
	"threeply/proof/fitness"
	"threeply/proof/plane"
	"threeply/proof/scan"
)

// negativeOf is an invented negative in a clear rebate.
func negativeOf(seed uint64) *plane.Plane {
	return framed(filmed(sceneCodes(300, 240, seed), 0.75, 0.25, 1.9), 20, 20, 20, 20, 0.25)
}

func TestOpenThreeFiles(t *testing.T) {
	var done []float64
	set, err := Open([]File{
		{Name: "boat_B.png", Data: pngOf(t, negativeOf(3))},
		{Name: "boat_R.png", Data: pngOf(t, negativeOf(1))},
		{Name: "boat_G.png", Data: pngOf(t, negativeOf(2))},
	}, Options{}, func(d float64, _ string) { done = append(done, d) })
	if err != nil {
		t.Fatal(err)
	}
	if set.Layout != Separate || set.Assign != [3]int{1, 2, 0} || set.Unnamed || set.Split {
		t.Errorf("%v %v unnamed %v split %v", set.Layout, set.Assign, set.Unnamed, set.Split)
	}
	for i := 1; i < len(done); i++ {
		if done[i] < done[i-1] {
			t.Errorf("progress goes back: %v", done)
		}
	}
	if done[len(done)-1] != 1 {
		t.Errorf("progress ends at %v", done)
	}
	for _, f := range filter.All {
		s, p := set.Plate(f)
		if s.Polarity != Negative || s.Bits != 16 || s.W != 340 || s.H != 280 || p.W != 340 {
			t.Errorf("%s: %+v", f, s)
		}
		want := negativeOf(uint64(f) + 1)
		picture := want.Crop(20, 20, 300, 240).Pix
		slices.Sort(picture)
		thin, dense := density.Of(picture[len(picture)/200]), density.Of(picture[len(picture)*199/200])
		if math.Abs(s.Base-thin) > 0.02 || math.Abs(s.Max-dense) > 0.02 || s.Black != s.Base || s.White != s.Max {
			t.Errorf("%s: base %.3f, white %.3f, black %.3f; the picture's quantiles are %.3f and %.3f", f, s.Base, s.White, s.Black, thin, dense)
		}
		worst := 0.0
		for i := range p.Pix {
			worst = max(worst, math.Abs(density.Of(p.Pix[i])-density.Of(want.Pix[i])))
		}
		if worst > 0.01 { // a linear 16-bit code at density 3 is 0.004 wide
			t.Errorf("%s: density off by %g", f, worst)
		}
	}
	if _, err := json.Marshal(set.Sources); err != nil {
		t.Error(err)
	}
}

// Every plate knows the content of its file and which part of it it is.
func TestOpenTellsTheContent(t *testing.T) {
	tall := plane.New(300, 3*240)
	for i := range 3 {
		copy(tall.Pix[i*300*240:], filmed(sceneCodes(300, 240, uint64(i)), 0.75, 0.25, 1.9).Pix)
	}
	for _, files := range [][]File{
		{{Name: "1.png", Data: pngOf(t, negativeOf(1))}, {Name: "2.png", Data: pngOf(t, negativeOf(2))}, {Name: "3.png", Data: pngOf(t, negativeOf(3))}},
		{{Name: "tall.png", Data: pngOf(t, tall)}},
	} {
		set, err := Open(files, Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, src := range set.Sources {
			of, part := files[0], i
			if len(files) == 3 {
				of, part = files[i], 0
			}
			p := make([]byte, of.Data.Size())
			if _, err := of.Data.ReadAt(p, 0); err != nil {
				t.Fatal(err)
			}
			if sum := sha256.Sum256(p); src.SHA256 != hex.EncodeToString(sum[:]) || src.Part != part {
				t.Errorf("%s: %s, part %d", src.Name, src.SHA256, src.Part)
			}
		}
	}
}

// A file's hash may be computed beside the reading; where that fails, it is computed here.
func TestOpenHashesBesideTheReading(t *testing.T) {
	for _, beside := range []string{strings.Repeat("0123", 16), ""} {
		data := pngOf(t, negativeOf(1))
		begun, waited := 0, 0
		hash := func() func() string {
			begun++
			return func() string { waited++; return beside }
		}
		set, err := Open([]File{{Name: "1.png", Data: data, Hash: hash}, {Name: "2.png", Data: pngOf(t, negativeOf(2))}, {Name: "3.png", Data: pngOf(t, negativeOf(3))}}, Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := beside
		if want == "" {
			p := make([]byte, data.Size())
			if _, err := data.ReadAt(p, 0); err != nil {
				t.Fatal(err)
			}
			sum := sha256.Sum256(p)
			want = hex.EncodeToString(sum[:])
		}
		if got := set.Sources[0].SHA256; got != want || begun != 1 || waited != 1 || len(set.Sources[1].SHA256) != 64 {
			t.Errorf("%q, want %q; begun %d times, waited for %d times", got, want, begun, waited)
		}
	}
}

// TestOpenHandsPlanesOn opens sets of all layouts plane by plane: the same as
// whole, and none is kept.
func TestOpenHandsPlanesOn(t *testing.T) {
	tall := plane.New(300, 3*240)
	for i := range 3 {
		copy(tall.Pix[i*300*240:], filmed(sceneCodes(300, 240, uint64(i)), 0.75, 0.25, 1.9).Pix)
	}
	for _, files := range [][]File{
		{{Name: "1.png", Data: pngOf(t, negativeOf(1))}, {Name: "2.png", Data: pngOf(t, negativeOf(2))}, {Name: "3.png", Data: pngOf(t, negativeOf(3))}},
		{{Name: "tall.png", Data: pngOf(t, tall)}},
	} {
		want, err := Open(files, Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var next int
		got, err := Open(files, Options{Take: func(i int, p *plane.Plane) {
			if i != next || !slices.Equal(p.Pix, want.Density[i].Pix) {
				t.Errorf("%s: plane %d, handed on as number %d, is another one", files[0].Name, i, next)
			}
			next++
		}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if next != 3 || got.Density != [3]*plane.Plane{} {
			t.Errorf("%s: %d planes were handed on, the set keeps %v", files[0].Name, next, got.Density)
		}
		if !reflect.DeepEqual(got.Sources, want.Sources) {
			t.Errorf("%s: the sources are %v, want %v", files[0].Name, got.Sources, want.Sources)
		}
	}
}

// TestOpenOfMeasuredPlates opens sets of all layouts that were measured before: the same planes,
// contents and places, and nothing that is measured.
func TestOpenOfMeasuredPlates(t *testing.T) {
	tall, colour := plane.New(300, 3*240), image.NewNRGBA64(image.Rect(0, 0, 340, 280))
	for i := range 3 {
		copy(tall.Pix[i*300*240:], filmed(sceneCodes(300, 240, uint64(i)), 0.75, 0.25, 1.9).Pix)
	}
	for i, c := range negativeOf(1).Pix {
		colour.SetNRGBA64(i%340, i/340, color.NRGBA64{R: c, G: c / 2, B: c / 3, A: 65535})
	}
	var text bytes.Buffer
	if err := png.Encode(&text, colour); err != nil {
		t.Fatal(err)
	}
	for _, files := range [][]File{
		{{Name: "r.png", Data: pngOf(t, negativeOf(1))}, {Name: "g.png", Data: pngOf(t, negativeOf(2))}, {Name: "b.png", Data: pngOf(t, negativeOf(3))}},
		{{Name: "tall.png", Data: pngOf(t, tall)}},
		{{Name: "colour.png", Data: scan.Bytes(text.Bytes())}},
	} {
		want, err := Open(files, Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Open(files, Options{Measured: true, Layout: want.Layout}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got.Density, want.Density) || got.Assign != want.Assign || got.Layout != want.Layout {
			t.Errorf("%s: %v, assigned %v; want %v, %v, or other planes", files[0].Name, got.Layout, got.Assign, want.Layout, want.Assign)
		}
		for i, s := range want.Sources {
			read := Source{
				Name: s.Name, SHA256: s.SHA256, Part: s.Part, W: s.W, H: s.H, Bits: s.Bits, PPI: s.PPI, Encoding: s.Encoding, Pictures: s.Pictures, Remarks: s.Remarks,
				Scan: fitness.Facts{Kind: s.Scan.Kind, Step: s.Scan.Step, Known: s.Scan.Known, PPIDown: s.Scan.PPIDown},
			}
			if s.Max == 0 || !reflect.DeepEqual(got.Sources[i], read) {
				t.Errorf("%s: source %d is\n%+v, want\n%+v", files[0].Name, i, got.Sources[i], read)
			}
		}
	}
}

// A file that another program reads meanwhile gives the set that one program makes, where what
// was found comes as JSON and where nothing comes.
func TestOpenElsewhere(t *testing.T) {
	files := []File{
		{Name: "boat_B.png", Data: pngOf(t, negativeOf(3))},
		{Name: "boat_R.png", Data: pngOf(t, negativeOf(1))},
		{Name: "boat_G.png", Data: pngOf(t, negativeOf(2))},
	}
	want, err := Open(files, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, comes := range []bool{true, false} {
		var planes [3]*plane.Plane
		take := func(i int, p *plane.Plane) { planes[i] = p }
		got, err := Open(files, Options{Take: take, Elsewhere: func(i int) (found Source, ok bool) {
			if i != 2 || !comes {
				return Source{}, false
			}
			one, err := One(files[i], i, Options{Take: take})
			text, bad := json.Marshal(one)
			if err != nil || bad != nil || json.Unmarshal(text, &found) != nil {
				t.Fatal(err, bad)
			}
			return found, true
		}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got.Sources, want.Sources) || got.Assign != want.Assign || !reflect.DeepEqual(planes, want.Density) {
			t.Errorf("elsewhere %v: %+v, want %+v", comes, got, want)
		}
	}
	if _, err := One(File{Name: "boat_G.png", Data: scan.Bytes("no picture")}, 2, Options{}); err == nil || !strings.Contains(err.Error(), "boat_G.png") {
		t.Errorf("of a file that is no scan: %v", err)
	}
}

func TestOpenNamesThatSayNothing(t *testing.T) {
	set, err := Open([]File{{Name: "1.png", Data: pngOf(t, negativeOf(1))}, {Name: "2.png", Data: pngOf(t, negativeOf(2))}, {Name: "3.png", Data: pngOf(t, negativeOf(3))}}, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !set.Unnamed || set.Assign != [3]int{0, 1, 2} {
		t.Errorf("unnamed %v, %v", set.Unnamed, set.Assign)
	}
}

func TestOpenTallInAllOrders(t *testing.T) {
	const w, h = 340, 280
	tall := plane.New(w, 3*h+2)
	for i := range 3 {
		copy(tall.Pix[i*w*h:], negativeOf(uint64(i)).Pix)
	}
	file := File{Name: "strip.png", Data: pngOf(t, tall)}
	for _, order := range []string{"", "bgr", "brg", "gbr", "grb", "rbg", "RGB"} {
		set, err := Open([]File{file}, Options{Order: order}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if order == "" {
			order = "bgr"
		}
		if set.Layout != Tall || set.Unnamed {
			t.Errorf("%s: %v, unnamed %v", order, set.Layout, set.Unnamed)
		}
		for i, letter := range strings.ToLower(order) {
			s, p := set.Plate(filter.Filter(strings.IndexRune("rgb", letter)))
			if s.H != h || p.At(100, 100) != set.Density[i].At(100, 100) || p != set.Density[i] {
				t.Errorf("%s: the %c plate is not exposure %d", order, letter, i)
			}
		}
	}
}

func TestOpenChannels(t *testing.T) {
	img := image.NewNRGBA64(image.Rect(0, 0, 340, 280))
	planes := [3]*plane.Plane{negativeOf(1), negativeOf(2), negativeOf(3)}
	linear := func(p *plane.Plane, i int) uint16 {
		return uint16(math.Round(65535 * math.Pow(10, -density.Of(p.Pix[i]))))
	}
	for i := range 340 * 280 {
		img.SetNRGBA64(i%340, i/340, color.NRGBA64{linear(planes[0], i), linear(planes[1], i), linear(planes[2], i), 65535})
	}
	set, err := Open([]File{{Name: "one.png", Data: encoded(t, img)}}, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if set.Layout != Channels || set.Assign != [3]int{0, 1, 2} {
		t.Errorf("%v %v", set.Layout, set.Assign)
	}
	for i, p := range planes {
		if got, want := density.Of(set.Density[i].At(150, 200)), density.Of(p.At(150, 200)); math.Abs(got-want) > 0.001 {
			t.Errorf("channel %d: %.4f, want %.4f", i, got, want)
		}
	}
}

func TestOpenRefusals(t *testing.T) {
	a, b, c := File{Name: "a.png", Data: pngOf(t, negativeOf(1))}, File{Name: "b.png", Data: pngOf(t, negativeOf(2))}, File{Name: "c.png", Data: pngOf(t, negativeOf(3))}
	grey := image.NewNRGBA(image.Rect(0, 0, 60, 50))
	for i := range grey.Pix {
		grey.Pix[i] = 255
	}
	colour := File{Name: "grey.png", Data: encoded(t, grey)}
	lying := File{Name: "lying.png", Data: pngOf(t, plane.New(300, 100))}
	for _, r := range []struct {
		files []File
		opt   Options
		want  string
	}{
		{nil, Options{}, "nothing was given"},
		{[]File{a, b}, Options{}, "a.png, b.png: a set is three scans, and these are two"},
		{[]File{a, b, c, a, b}, Options{}, "these are five"},
		{[]File{a, b, {Name: "copy.png", Data: a.Data}}, Options{}, "a.png, copy.png: these are the same scan twice"},
		{[]File{a, a, a}, Options{}, "a.png, a.png, a.png: these are the same scan three times"},
		{[]File{lying}, Options{}, "lies on its side"},
		{[]File{a}, Options{}, "a.png: it is one grey scan of 340 × 280 pixels"},
		{[]File{colour}, Options{}, "its three channels are equal"},
		{[]File{a}, Options{Layout: Channels}, "it is grey"},
		{[]File{a}, Options{Layout: Separate}, "takes three"},
		{[]File{a, b, c}, Options{Layout: Tall}, "takes one"},
		{[]File{a}, Options{Layout: "wide"}, `the layout "wide" is not known`},
		{[]File{a}, Options{Layout: Tall, Order: "rgg"}, `order "rgg"`},
		{[]File{a}, Options{Layout: Tall, Order: "rgbr"}, `order "rgbr"`},
		{[]File{a, b, {Name: "broken.png", Data: c.Data.(scan.Bytes)[:500]}}, Options{}, "broken.png: it is damaged or cut short"},
		{[]File{a, b, {Name: "empty.tif", Data: scan.Bytes(nil)}}, Options{}, "empty.tif: the file is empty"},
		{[]File{a, b, c}, Options{Encoding: "odd"}, `a.png: the encoding "odd"`},
	} {
		_, err := Open(r.files, r.opt, nil)
		var e *scan.Error
		if !errors.As(err, &e) || !strings.Contains(err.Error(), r.want) || !strings.HasSuffix(e.Remedy, ".") {
			t.Errorf("got %v, want %q", err, r.want)
		}
	}
}

// Files of one plate each are told apart from what can not be opened, with the filter that a
// name tells.
func TestPlatesAlone(t *testing.T) {
	a, b := File{Name: "quay_green.png", Data: pngOf(t, negativeOf(1))}, File{Name: "scan 7.png", Data: pngOf(t, negativeOf(2))}
	for _, files := range [][]File{{a}, {a, b}} {
		_, err := Open(files, Options{}, nil)
		alone, ok := errors.AsType[*Alone](err)
		if !ok || len(alone.Plates) != len(files) || alone.Plates[0].Filter != 1 || len(alone.Plates[0].SHA256) != 64 {
			t.Fatalf("%+v", err)
		}
		if len(files) == 2 && (alone.Plates[1].Filter != -1 || alone.Plates[1].SHA256 == alone.Plates[0].SHA256) {
			t.Errorf("%+v", alone.Plates)
		}
	}
	// A small picture lies with each: half as large, and as light as its scan on a display.
	full := negativeOf(1)
	_, err := Open([]File{a}, Options{}, nil)
	alone, _ := errors.AsType[*Alone](err)
	_, data, _ := strings.Cut(alone.Plates[0].Thumb, "data:image/png;base64,")
	small, err := png.Decode(base64.NewDecoder(base64.StdEncoding, strings.NewReader(data)))
	if err != nil || small.Bounds().Dx() != full.W/2 {
		t.Fatalf("the small picture: %v, %v", small, err)
	}
	for _, at := range [][2]int{{4, 4}, {80, 60}, {120, 100}} {
		var light float64
		for i := range 4 {
			light += math.Pow(10, -density.Of(full.At(2*at[0]+i%2, 2*at[1]+i/2))) / 4
		}
		got := float64(small.(*image.Gray).GrayAt(at[0], at[1]).Y)
		if want := 255 * math.Pow(light, 1/2.2); math.Abs(got-want) > 2 {
			t.Errorf("at %v it is %.0f, want %.1f", at, got, want)
		}
	}
	if _, err := Open([]File{a, {Name: "broken.png", Data: scan.Bytes("no picture")}}, Options{}, nil); err == nil || !strings.Contains(err.Error(), "broken.png") {
		t.Errorf("%v", err)
	}
	for name, want := range map[string]int{"Blau 3.tif": 2, "plate25.tif": 0, "x_g.png": 1, "red over green.tif": -1, "a.tif": -1} {
		if got := filterNamed(name); got != want {
			t.Errorf("%s is filter %d, want %d", name, got, want)
		}
	}
}

// The layouts of the real plates are as their README says.
func TestOpenRealPlates(t *testing.T) {
	for _, file := range shared(t, "plates") {
		set := openFile(t, file, Options{})
		want, of := Tall, [3]int{2, 1, 0}
		if strings.Contains(file, "melons") {
			want, of = Channels, [3]int{0, 1, 2}
		}
		if set.Layout != want || set.Assign != of {
			t.Errorf("%s: %v %v", file, set.Layout, set.Assign)
		}
		for _, s := range set.Sources {
			if s.Max-s.Base < 0.3 || s.Scan.Clipped[0] > 0.2 || s.Scan.Clipped[1] > 0.2 {
				t.Errorf("%s: base %.2f, max %.2f, clipped %.3f", s.Name, s.Base, s.Max, s.Scan.Clipped)
			}
		}
	}
}

// What the reader remarks of a file, and what an infrared channel shows, reach the source.
func TestRemarksOnAFile(t *testing.T) {
	files := []File{
		{Name: "r.tif", Data: scan.Bytes(infraredTIFF(60, 40, false))},
		{Name: "g.tif", Data: scan.Bytes(infraredTIFF(60, 40, true))},
		{Name: "b.tif", Data: scan.Bytes(infraredTIFF(61, 40, true))},
	}
	set, err := Open(files, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"tells no dust apart", "shows dust or scratches on 0 %"} {
		if got := set.Sources[i].Remarks; len(got) != 1 || !strings.Contains(got[0], want) {
			t.Errorf("source %d: %q, want %q", i, got, want)
		}
	}
}

// infraredTIFF is a TIFF of 8-bit red, green, blue and infrared (TIFF 6.0): the infrared
// clear, or like the picture.
func infraredTIFF(w, h int, clear bool) []byte {
	d := binary.LittleEndian
	out := append([]byte("II*\x00"), 0, 0, 0, 0)
	for i := range w * h {
		v := byte(40 + 200*(i%w)/w)
		infrared := v
		if clear {
			infrared = 240
		}
		out = append(out, v, v, byte(20+200*(i/w)/h), infrared)
	}
	bits := uint32(len(out))
	out = append(out, 8, 0, 8, 0, 8, 0, 8, 0)
	d.PutUint32(out[4:], uint32(len(out)))
	entries := [][3]uint32{{256, 1, uint32(w)}, {257, 1, uint32(h)}, {258, 4, bits}, {262, 1, 2}, {273, 1, 8}, {277, 1, 4}, {278, 1, uint32(h)}, {279, 1, uint32(4 * w * h)}, {338, 1, 0}}
	out = d.AppendUint16(out, uint16(len(entries)))
	for _, e := range entries {
		kind := uint16(4)
		if e[0] == 258 {
			kind = 3
		}
		out = d.AppendUint32(d.AppendUint32(d.AppendUint16(d.AppendUint16(out, uint16(e[0])), kind), e[1]), e[2])
	}
	return d.AppendUint32(out, 0)
}
