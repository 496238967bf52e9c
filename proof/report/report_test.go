package report

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"threeply/proof/label"
	"threeply/proof/plane"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

func planes(s *session.State) (out [3]*plane.Plane) {
	for i, src := range s.Sources {
		out[i] = plane.New(src.W, src.H)
		for k := range out[i].Pix {
			out[i].Pix[k] = uint16(8000 + k*37%30000)
		}
	}
	return out
}

// The page tells of every plate, of both verdicts, of each part of the picture and of what
// was decided, and needs nothing from elsewhere.
func TestThePageHoldsWhatIsSigned(t *testing.T) {
	s := sessiontest.Opened()
	s.Title = "Harbour <b>at dusk</b>"
	s.Found[0].Words = "Against the key: shifted 5 px."
	cells := []byte(s.Survey[0].Cells)
	cells[0], cells[1] = 'u', 'x'
	s.Survey[0].Cells, s.Survey[0].DX[1] = string(cells), 7
	s.Sources[2].Overruled = true
	r, err := Of(&s, planes(&s), label.Made{Tool: "Threeply test", At: time.Date(2031, 4, 5, 6, 7, 8, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := r.Write(&out); err != nil {
		t.Fatal(err)
	}
	page := out.String()
	for _, want := range []string{
		"Harbour &lt;b&gt;at dusk&lt;/b&gt;", "red.tif", "green.tif", "blue.tif", strings.Repeat("a", 64), strings.Repeat("c", 64),
		r.Scan.Sentence, r.Print.Sentence, "5 April 2031, 06:07 UTC", "Threeply test", "shifted 5 px", "The green plate is the key.",
		"Whether the blue plate is a negative was said against what its scan suggests.", "7.0",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on the page", want)
		}
	}
	doc, err := html.Parse(&out)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		kinds[n.Data]++
		for _, a := range n.Attr {
			kinds[n.Data+"."+a.Val]++
			if (a.Key == "src" || a.Key == "href") && !strings.HasPrefix(a.Val, "data:image/png;base64,") {
				t.Errorf("<%s> fetches %.40q", n.Data, a.Val)
			}
		}
	}
	if n := len(r.Scan.Cells); n == 0 || kinds["text"] != n || kinds["rect.empty"] != 1 || kinds["rect.moved"] != 1 || kinds["img"] != len(r.Worst) || len(r.Worst) == 0 {
		t.Errorf("%d cells, on the page %d, %d of them empty, %d moved; %d worst places, %d pictures", n, kinds["text"], kinds["rect.empty"], kinds["rect.moved"], len(r.Worst), kinds["img"])
	}
	if r.Worst[0].Says[:18] != "red and green plat" && r.Worst[0].Says[:18] != "red and blue plate" {
		t.Errorf("the worst place is of another pair: %s", r.Worst[0].Says)
	}
}

func TestWithoutPlates(t *testing.T) {
	s := session.New()
	if _, err := Of(&s, [3]*plane.Plane{}, label.Made{}); err == nil {
		t.Error("a report on nothing")
	}
}
