package fit

import (
	"encoding/json"
	"strings"
	"testing"

	"threeply/proof/pigment"
	"threeply/proof/testsheet"
)

// Readings are of the sheet that they name, else of that whose plan is given, else of the one in
// use; where these disagree they are refused, with what to do.
func TestReadingsFindTheirSheet(t *testing.T) {
	p, q := pigment.Palettes()[0], pigment.Palettes()[1]
	a, b := testsheet.Of(p), testsheet.Of(q)
	plan := func(name string, s testsheet.Sheet) File {
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		return File{name, text}
	}
	remark := func(name string, s testsheet.Sheet) File {
		return File{name, []byte("\ufeff\"# " + s.Name(p) + " · Threeply v1\"\r\nSAMPLE_ID,D_RED,D_GREEN,D_BLUE\r\nA1,1,1,1\r\n")}
	}
	bare := File{"bare.txt", []byte("SAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,1,1,1\n")}
	old := File{"old.csv", []byte("# test sheet of the palette x (places by seed 1931)\nSAMPLE_ID,D_RED,D_GREEN,D_BLUE\nA1,1,1,1\n")}
	for what, c := range map[string]struct {
		known     []testsheet.Sheet
		files     []File
		of        string
		say, says string
	}{
		"nothing said":           {nil, []File{bare}, a.Code(), "", ""},
		"a plan":                 {nil, []File{bare, plan("p.json", b)}, b.Code(), "", ""},
		"named, in use":          {nil, []File{remark("r.csv", a), bare}, a.Code(), "", ""},
		"named, known":           {[]testsheet.Sheet{a, b}, []File{remark("r.csv", b)}, b.Code(), "", ""},
		"named, with its plan":   {nil, []File{remark("r.csv", b), plan("p.json", b)}, b.Code(), "", ""},
		"named, not known":       {[]testsheet.Sheet{a}, []File{remark("r.csv", b)}, "", "", "r.csv is of the test sheet " + b.Code() + ", whose plan is not at hand; give it too"},
		"named, another’s plan":  {[]testsheet.Sheet{b}, []File{remark("r.csv", b), plan("p.json", a)}, "", "", "p.json is the plan of " + a.Code()},
		"two sheets":             {[]testsheet.Sheet{b}, []File{remark("r.csv", a), remark("s.csv", b)}, "", "", "one sheet at a time"},
		"two plans":              {nil, []File{plan("p.json", a), plan("q.json", b)}, "", "", "both p.json and q.json are plans"},
		"of an earlier version":  {nil, []File{old}, a.Code(), "old.csv was made for a test sheet of an earlier version, and is read as one of sheet " + a.Code(), ""},
		"earlier, with its plan": {nil, []File{old, plan("p.json", b)}, b.Code(), "", ""},
		"a plan without a patch": {nil, []File{bare, {"p.json", []byte("{}")}}, "", "", "p.json: a plan of 0 patches"},
	} {
		got, err := Gather(a, c.known, c.files)
		if c.says != "" {
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v", what, err)
			}
			continue
		}
		if err != nil || got.Sheet.Code() != c.of || !strings.HasPrefix(got.Say, c.say) || (c.say == "") != (got.Say == "") {
			t.Errorf("%s: it is of %s, not of %s; %q, %v", what, got.Sheet.Code(), c.of, got.Say, err)
		}
	}
}
