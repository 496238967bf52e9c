package leaf

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func TestWhatIsTypedIsText(t *testing.T) {
	hostile := `</style></title><script>alert(1)</script><img src=x onerror=alert(2)>` + "\u202e"
	var out bytes.Buffer
	sheet := Parse(`<h1><bdi>{{.Name}}</bdi></h1><img alt="{{.Name}}" src="{{picture .PNG}}">`)
	if err := Write(&out, hostile, "h1 { color: red; }", sheet, map[string]any{"Name": hostile, "PNG": []byte("png")}); err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(&out)
	if err != nil {
		t.Fatal(err)
	}
	var texts, images int
	for n := range doc.Descendants() {
		switch {
		case n.Type == html.ElementNode && n.Data == "script":
			t.Error("a script")
		case n.Type == html.ElementNode && n.Data == "img":
			images++
			for _, a := range n.Attr {
				if a.Key != "alt" && a.Key != "src" || a.Key == "src" && a.Val != "data:image/png;base64,cG5n" || a.Key == "alt" && a.Val != hostile {
					t.Errorf("%s=%q", a.Key, a.Val)
				}
			}
		case n.Type == html.TextNode && n.Data == hostile:
			texts++
		}
	}
	if texts != 2 || images != 1 { // title and heading
		t.Errorf("what was typed is %d times a text, of %d pictures", texts, images)
	}
}

// A page needs nothing but itself.
func TestNothingFromElsewhere(t *testing.T) {
	var out bytes.Buffer
	if err := Write(&out, "Sheet", "", Parse(`<p>Text</p>`), nil); err != nil {
		t.Fatal(err)
	}
	for _, reference := range []string{"http", "url(", "@import", "<link", "src="} {
		if strings.Contains(strings.ReplaceAll(out.String(), "http-equiv", ""), reference) {
			t.Errorf("it refers to something by %s", reference)
		}
	}
}

type note struct{ Text string }

func (note) Method() string { return "" }

// The page's programs have no methods for templates (tools/bundle): a sheet that asks for one
// fails here already. Fields of embedded structs are reached as in Go.
func TestFieldsAlone(t *testing.T) {
	shows := struct{ note }{note{"said"}}
	var out bytes.Buffer
	if err := Write(&out, "Sheet", "", Parse(`<p>{{.Text}}</p>`), shows); err != nil || !strings.Contains(out.String(), "<p>said</p>") {
		t.Errorf("%v: %s", err, out.String())
	}
	if err := Write(&out, "Sheet", "", Parse(`<p>{{.Method}}</p>`), shows); err == nil {
		t.Error("a method was called")
	}
}

func TestFiguresKeepTheirUnits(t *testing.T) {
	said := "From 40 °C, never above 49 °C; alum 5 %, 24 h in 1 climate. Step 2 s"
	want := "From 40_°C, never above 49_°C; alum 5_%, 24_h in 1 climate. Step 2_s"
	if got := strings.ReplaceAll(joined(said), "\u00a0", "_"); got != want {
		t.Errorf("%s", got)
	}
}
