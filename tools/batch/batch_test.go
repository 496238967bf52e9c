package batch

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"threeply/tools/files"
)

func read(t *testing.T, text string) (out []Set, err error) {
	t.Helper()
	for s, e := range Manifest("in/sets.csv", strings.NewReader(text)) {
		if e != nil {
			return out, e
		}
		out = append(out, s)
	}
	return out, nil
}

func TestManifest(t *testing.T) {
	for _, text := range []string{
		"set,red,green,blue,title,file,session\nquay,r.tif,g.tif,b.tif,\"The quay, at dusk\"\n mill ,,,,,tall.tif,\nsaved,,,,,,kept.zip\n",
		"\ufeffSet;Red;Green;Blue;Title;File;Session\r\nquay;r.tif;g.tif;b.tif;The quay, at dusk\r\nmill;;;;;tall.tif;\r\nsaved;;;;;;kept.zip\r\n",
	} {
		got, err := read(t, text)
		if err != nil || len(got) != 3 {
			t.Fatal(got, err)
		}
		if q := got[0]; q.Name != "quay" || !slices.Equal(q.Named, []string{"r.tif", "g.tif", "b.tif"}) || q.Fault != "" || !slices.Equal(q.Files, []string{"in/r.tif", "in/g.tif", "in/b.tif"}) || q.Says[Title] != "The quay, at dusk" {
			t.Errorf("%+v", q)
		}
		if m := got[1]; m.Name != "mill" || m.Fault != "" || !slices.Equal(m.Files, []string{"in/tall.tif"}) || !slices.Equal(m.Named, []string{"tall.tif"}) {
			t.Errorf("%+v", m)
		}
		if s := got[2]; s.Fault != "" || len(s.Files) != 0 || s.Session != "in/kept.zip" {
			t.Errorf("%+v", s)
		}
	}
	for row, want := range map[string]string{
		"a,r,,b": "no scan of the green plate", "a,,,": "names no scans", "a,r,g,b,x": "single plates too", ",r,g,b": "gives no name",
		"a/b,r,g,b": "cannot be the name of a folder", "..,r,g,b": "cannot be the name", "A,r,g,b\na,r,g,b": "another set has this name", strings.Repeat("x", 130) + ",r,g,b": "cannot be",
		"NUL,r,g,b": "cannot be the name", "com1.x,r,g,b": "cannot be the name", "Report.csv,r,g,b": "a file of the batch itself",
		"contact-2-of-9.html,r,g,b": "a file of the batch itself", "batch.json,r,g,b": "a file of the batch itself",
	} {
		got, err := read(t, "set,red,green,blue,file\n"+row+"\n")
		if err != nil || len(got) == 0 || !strings.Contains(got[len(got)-1].Fault, want) {
			t.Errorf("%q: %+v, %v", row, got, err)
		}
	}
	for _, name := range []string{"nullarbor", "com0", "console", "report", "contact", "batch", "-3", "lpt 1"} {
		if got, err := read(t, "set,red,green,blue\n"+name+",r,g,b\n"); err != nil || len(got) != 1 || got[0].Fault != "" {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	for text, want := range map[string]string{"": "holds no table", "red,green\n": "no column names the sets", "set,rad\n": "no column “rad”", "set,set\n": "two columns"} {
		if _, err := read(t, text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A row that cannot be read rightly is a set with a fault, and those after it are read. Rows
// and columns that a spreadsheet leaves empty are none.
func TestManifestsAsTheyAreTyped(t *testing.T) {
	const heads, after = "set,red,green,blue,title\n", "\nlast,r,g,b,\n"
	for row, want := range map[string]string{
		`a,r,g,b,"Sunrise" at sea`:                  "line 2 cannot be parted into values",
		`a,r,g,b,9" x 12"`:                          "line 2 cannot be parted into values",
		`a,r,g,b,Sea, with boats`:                   "line 2 has more values than there are columns",
		"M\xfcller,r,g,b,Sea":                       "line 2 holds letters that are not UTF-8",
		"a,r,g,b,Stra\xdfe":                         "line 2 holds letters that are not UTF-8",
		"a,r,g,b,\"Sea\nb,r,g,b,\"Quay\"\nc,r,g,b,": "lines 2 to 3 cannot be parted into values",
	} {
		got, err := read(t, heads+row+after)
		if err != nil || len(got) < 2 || !strings.HasPrefix(got[0].Fault, want) {
			t.Errorf("%q: %+v, %v", row, got, err)
			continue
		}
		if l := got[len(got)-1]; l.Name != "last" || l.Fault != "" {
			t.Errorf("%q: the last set is %+v", row, l)
		}
	}
	if got, err := read(t, heads+"a,r,g,b,\"Sea"+after); err != nil || len(got) != 1 || !strings.Contains(got[0].Fault, "lines 2 to 3 cannot be parted") {
		t.Errorf("never closed: %+v, %v", got, err)
	}
	got, err := read(t, "set;red;green;blue;;\r\n;;;;;\r\na;r;g;b;;\r\n; ;;;;\r\n\r\n")
	if err != nil || len(got) != 1 || got[0].Name != "a" || got[0].Fault != "" {
		t.Errorf("rows that are left empty: %+v, %v", got, err)
	}
	if _, err := read(t, "\xff\xfes\x00e\x00t\x00\n\x00"); err == nil || !strings.Contains(err.Error(), "in/sets.csv: it is text in UTF-16; save") {
		t.Error(err)
	}
	for text, want := range map[string]string{
		"s\x00e\x00t\x00,\x00r\x00\n\x00": "in/sets.csv: it is no text in UTF-8; save", "PK\x03\x04\x14\x00\x06": "in/sets.csv: it is no text in UTF-8; save",
		"set,red,green,blue\ra,r,g,b\r": "in/sets.csv: its rows end with a bare carriage return; save",
	} {
		if _, err := read(t, text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// rows is a manifest of so many sets, made up as it is read.
type rows struct {
	left int
	text []byte
}

func (r *rows) Read(p []byte) (int, error) {
	for len(r.text) < len(p) && r.left > 0 {
		r.text = fmt.Appendf(r.text, "set %d,red-%d.tif,green-%d.tif,blue-%d.tif,A title of some length that nobody needs\n", r.left, r.left, r.left, r.left)
		r.left--
	}
	n := copy(p, r.text)
	r.text = r.text[n:]
	if n == 0 {
		return 0, errors.New("EOF, but not the usual one")
	}
	return n, nil
}

// A long manifest is not held in memory: what stays of a set is less than a tenth of its row.
func TestALongManifest(t *testing.T) {
	in := &rows{left: 100_000, text: []byte("set,red,green,blue,title\n")}
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	n := 0
	for s, err := range Manifest("sets.csv", in) {
		if err != nil {
			break
		}
		if n++; n == 100_000 {
			runtime.GC()
			runtime.ReadMemStats(&after)
		}
		if s.Fault != "" {
			t.Fatal(s.Fault)
		}
	}
	grown := int64(after.HeapAlloc) - int64(before.HeapAlloc)
	t.Logf("%d sets, %d kB held", n, grown>>10)
	if n != 100_000 || grown > 100_000*50 {
		t.Errorf("%d sets hold %d bytes", n, grown)
	}
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"quay_red.tif", "quay_green.tif", "quay_blue.tif", "mill_R.tif", "mill_G.tif", "other.txt", "deep/x_red.tif", "sets/one/r.tif", "sets/one/g.tif", "sets/one/b.tif"} {
		os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755)
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := Find(dir + "/{set}_{plate}.tif")
	if err != nil || len(got) != 2 || got[0].Name != "mill" || got[0].Fault != "no file fits as its blue plate" {
		t.Fatal(got, err)
	}
	if q := got[1]; q.Fault != "" || !slices.Equal(q.Named, []string{"quay_red.tif", "quay_green.tif", "quay_blue.tif"}) || !slices.Equal(q.Files, []string{filepath.Join(dir, "quay_red.tif"), filepath.Join(dir, "quay_green.tif"), filepath.Join(dir, "quay_blue.tif")}) {
		t.Errorf("%+v", q)
	}
	if got, err = Find(dir + "/sets/{set}/{plate}.tif"); err != nil || len(got) != 1 || got[0].Name != "one" || len(got[0].Files) != 3 {
		t.Error(got, err)
	}
	if got, err = Find(dir + "/{set}.tif"); err != nil || len(got) != 5 || len(got[0].Files) != 1 {
		t.Error(got, err)
	}
	for pattern, want := range map[string]string{dir + "/{set}_{plate}.png": "no file fits", dir + "/{plate}.tif": "holds {set} once", dir + "/none/{set}.tif": "no such file"} {
		if _, err := Find(pattern); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", pattern, err)
		}
	}
	for _, name := range []string{"two", Unfinished + "three"} { // of an earlier batch into the same folder
		_, _, err := Make(filepath.Join(dir, "sets"), name, "", false, func() {}, func(folder string) (Figures, error) {
			return Figures{Set: name, Why: Fine}, os.WriteFile(filepath.Join(folder, "r.tif"), nil, 0o600)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	os.Remove(filepath.Join(dir, "sets", Unfinished+"three", RecordName))
	if got, err = Find(dir + "/sets/{set}/{plate}.tif"); err != nil || len(got) != 1 || got[0].Name != "one" {
		t.Error("what a batch has made is taken for scans:", got, err)
	}
	elsewhere := t.TempDir()
	for _, plate := range []string{"r.tif", "g.tif", "b.tif"} {
		os.WriteFile(filepath.Join(elsewhere, plate), nil, 0o600)
	}
	if err := os.Symlink(elsewhere, filepath.Join(dir, "sets", "far")); err == nil { // not every disc has links
		if got, err = Find(dir + "/sets/{set}/{plate}.tif"); err != nil || len(got) != 2 || got[0].Name != "far" || got[0].Fault != "" {
			t.Error("a folder that is linked to is passed over:", got, err)
		}
	}
	os.WriteFile(filepath.Join(dir, "quay_r.tif"), nil, 0o600)
	if _, err := Find(dir + "/{set}_{plate}.tif"); err == nil || !strings.Contains(err.Error(), "both fit as the red plate") {
		t.Error(err)
	}
}

// All shards together take each set once.
func TestShards(t *testing.T) {
	for n := 1; n < 9; n++ {
		taken := make([]int, 50)
		for i := 1; i <= n; i++ {
			s, err := ParseShard(fmt.Sprintf("%d/%d", i, n))
			if err != nil {
				t.Fatal(err)
			}
			for k := range taken {
				if s.Takes(k) {
					taken[k]++
				}
			}
		}
		if slices.Max(taken) != 1 || slices.Min(taken) != 1 {
			t.Errorf("%d shards: %v", n, taken)
		}
	}
	for _, bad := range []string{"0/3", "4/3", "x", "1/", "/2", "-1/2"} {
		if _, err := ParseShard(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// Sets of one name stand in the same order, in whichever they were worked on.
func TestReportOfSetsOfOneName(t *testing.T) {
	all := []Figures{{Set: "quay", Title: "a"}, {Set: "quay", Title: "b"}, {Set: "quay", Title: "b", Number: "2"}, {Set: "quay", Look: []string{"no such file"}}}
	var reports [2]bytes.Buffer
	for i := range reports {
		if err := Report(&reports[i], gathered(t, 0, all...)); err != nil {
			t.Fatal(err)
		}
		slices.Reverse(all)
	}
	if reports[0].String() != reports[1].String() {
		t.Errorf("%s\n%s", reports[0].String(), reports[1].String())
	}
}

// What shards are missing is known by the names of those that are there.
func TestMissingShards(t *testing.T) {
	for want, reports := range map[string][]string{
		"":              {"report.csv", "a/report-1-of-2.csv", "b/report-2-of-2.csv", "report-1-of-1.csv", "report-x-of-9.csv", "report-01-of-9.csv"},
		"2/3":           {"report-1-of-3.csv", "report-3-of-3.csv"},
		"2/2, 1/3, 3/3": {"report-2-of-3.csv", "report-1-of-2.csv"},
		strings.Join(func() (all []string) {
			for i := range 20 {
				all = append(all, fmt.Sprintf("%d/1000", i+1))
			}
			return append(all, "979 more")
		}(), ", "): {"report-1000-of-1000.csv"},
	} {
		if got := Missing(reports); got != want {
			t.Errorf("%q: missing %q, want %q", reports, got, want)
		}
	}
}

func figuresOf(v float64) *float64 { return &v }

// A report is read back as it was written, and comes in the order of what a person must
// look at first.
func TestReportThereAndBack(t *testing.T) {
	all := []Figures{
		{Set: "fine", Why: Fine, Verdict: "in register", Stars: 4, P95: figuresOf(0.25), Folder: "fine", Small: []string{"small-earth.jpg", "small-chrome.jpg"}, SHA256: []string{"ab", "cd"}},
		{Set: "out by 2", Why: Out, Degree: 2, Look: []string{"out", "and \"more\",\nof it"}},
		{Set: "out by 3", Why: Out, Degree: 3.123456, Title: "=1+1"},
		{Set: "failed", Why: Failed, Look: []string{"no such file"}},
		{Set: "clipped", Why: Clipped, Degree: 0.02, Clipped: figuresOf(0.02), Coverage: figuresOf(0), Confidence: figuresOf(1), Apart: figuresOf(0.5), Largest: figuresOf(1e3)},
		{Set: "also failed", Why: Failed},
	}
	slices.SortFunc(all, Urgent)
	var order []string
	for _, f := range all {
		order = append(order, f.Set)
	}
	if want := []string{"also failed", "failed", "out by 3", "out by 2", "clipped", "fine"}; !slices.Equal(order, want) {
		t.Errorf("%q, want %q", order, want)
	}
	var written [3]string // with two figures in memory, with one, and with all
	for i, most := range []int{2, 1, 0} {
		g := gathered(t, most, all...)
		var b bytes.Buffer
		if err := Report(&b, g); err != nil {
			t.Fatal(err)
		}
		written[i] = b.String()
	}
	text := written[0]
	if written[1] != text || written[2] != text {
		t.Errorf("reports differ: %q", written)
	}
	back, err := ReadReport("report.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	if err := Report(&again, gathered(t, 0, back...)); err != nil || again.String() != text {
		t.Errorf("read back and written again: %v\n%s\nwant\n%s", err, again.String(), text)
	}
	if !strings.Contains(text, ",'=1+1,") { // as a spreadsheet is kept from running it
		t.Error("a formula is written as one")
	}
	if !reflect.DeepEqual(back, all) {
		t.Errorf("%+v\nwant\n%+v", back, all)
	}
	for _, bad := range []string{"", "a,b\n", strings.Replace(text, "clipped,0.02", "clipped,much", 1), strings.Replace(text, "\r\nfailed", "\r\nnever", 1)} {
		if _, err := ReadReport("report.csv", []byte(bad)); err == nil || !strings.HasPrefix(err.Error(), "report.csv: ") {
			t.Errorf("%.40q: %v", bad, err)
		}
	}
}

// gathered gathers figures, the last first, so many of them in memory.
func gathered(t *testing.T, most int, all ...Figures) *Gathered {
	t.Helper()
	g := &Gathered{most: most}
	t.Cleanup(g.Close)
	for _, f := range slices.Backward(all) {
		if err := g.Add(f); err != nil {
			t.Fatal(err)
		}
	}
	return g
}

// What is typed is text on the contact sheet, and names of folders are addresses.
func TestContact(t *testing.T) {
	var b bytes.Buffer
	err := Contact(&b, gathered(t, 0, []Figures{{Set: "<b>50 %", Why: Out, Folder: "<b>50 %", Title: "<script>", Look: []string{"a & b"}, Small: []string{"small-earth.jpg"}}, {Set: "x", Why: Failed}}...))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"2 sets, 2 to look at", `src="./%3Cb%3E50%20%25/small-earth.jpg"`, "&lt;script&gt;", "a &amp; b", "nothing was made"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %s in\n%s", want, b.String())
		}
	}
}

func TestMakeIsAllOrNothing(t *testing.T) {
	out := t.TempDir()
	put := func(text string) func(string) (Figures, error) {
		return func(folder string) (Figures, error) {
			return Figures{Set: "quay"}, os.WriteFile(filepath.Join(folder, "a.txt"), []byte(text), 0o600)
		}
	}
	left := filepath.Join(out, Unfinished+"quay", "old.txt") // of a run that was ended
	os.MkdirAll(filepath.Dir(left), 0o755)
	os.WriteFile(left, nil, 0o600)
	if _, _, err := Make(out, "quay", "d1", false, func() {}, func(folder string) (Figures, error) {
		put("half")(folder)
		return Figures{}, errors.New("no")
	}); err == nil {
		t.Error("an error was swallowed")
	}
	if all, _ := os.ReadDir(out); len(all) != 0 {
		t.Errorf("%v is left", all)
	}
	if _, _, err := Make(out, "quay", "d1", false, func() {}, put("one")); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(out, "quay")
	if r, ok := Finished(out, "quay", "d1"); !ok || r.Figures.Set != "quay" || len(r.Files) != 1 {
		t.Errorf("%+v", r)
	}
	if _, ok := Finished(out, "quay", "d2"); ok {
		t.Error("finished, of another digest")
	}
	if _, _, err := Make(out, "quay", "d2", false, func() {}, put("two")); err == nil || !strings.Contains(err.Error(), "was left as it is") {
		t.Error(err)
	}
	if _, _, err := Make(out, "quay", "d2", true, func() {}, put("two")); err != nil {
		t.Error(err)
	}
	os.Truncate(filepath.Join(folder, "a.txt"), 1)
	if _, ok := Finished(out, "quay", "d2"); ok {
		t.Error("finished, with a file cut short")
	}
	own := filepath.Join(out, "own")
	os.Mkdir(own, 0o755)
	if _, _, err := Make(out, "own", "d", true, func() {}, put("x")); err == nil {
		t.Error("a folder that no batch made was replaced")
	}
	note := filepath.Join(folder, "note.txt") // of a person
	os.WriteFile(note, []byte("keep"), 0o600)
	if _, _, err := Make(out, "quay", "d3", true, func() {}, put("three")); err == nil || !strings.Contains(err.Error(), note+": no batch has made it") {
		t.Error(err)
	}
	if text, _ := os.ReadFile(note); string(text) != "keep" {
		t.Errorf("the note holds %q", text)
	}
	record := filepath.Join(folder, RecordName)
	text, _ := os.ReadFile(record)
	os.WriteFile(record, bytes.Replace(text, []byte(`"why": 0`), []byte(`"why": 99`), 1), 0o600)
	if r, ok := recordOf(folder); ok {
		t.Errorf("a damaged record is read: %+v", r)
	}
}

// Several runs that make the same set at once make it once, and all have it; of runs that
// make it in different ways one has it, whole, and the others are told.
func TestMakeAtOnce(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("SKIPPED: here files.Lock holds nothing up")
	}
	for _, ways := range []int{1, 3} {
		out := t.TempDir()
		var all sync.WaitGroup
		var made, had, refused, waited atomic.Int32
		for i := range 12 {
			way := fmt.Sprint(i % ways)
			all.Go(func() {
				_, before, err := Make(out, "quay", way, false, func() { waited.Add(1) }, func(folder string) (Figures, error) {
					made.Add(1)
					for n := range 9 {
						if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%d.txt", way, n)), nil, 0o600); err != nil {
							return Figures{}, err
						}
						runtime.Gosched()
					}
					return Figures{Set: "quay"}, nil
				})
				switch {
				case before:
					had.Add(1)
				case err != nil && strings.Contains(err.Error(), "was left as it is"):
					refused.Add(1)
				case err != nil:
					t.Error(err)
				}
			})
		}
		all.Wait()
		r, ok := recordOf(filepath.Join(out, "quay"))
		if left, _ := os.ReadDir(out); !ok || len(left) != 1 || len(r.Files) != 9 || !strings.HasPrefix(r.Files[0].Name, r.Digest+"-") {
			t.Errorf("%d ways: %v is there, record %+v", ways, left, r)
		}
		if n := int32(12 / ways); made.Load() != 1 || waited.Load() > 11 || had.Load() != n-1 || refused.Load() != 12-n {
			t.Errorf("%d ways: made %d times, had by %d, refused to %d", ways, made.Load(), had.Load(), refused.Load())
		}
	}
}

// A run that has to wait for another says so.
func TestMakeSaysThatItWaits(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("SKIPPED: here files.Lock holds nothing up")
	}
	out := t.TempDir()
	unlock, err := files.Lock(filepath.Join(out, locked+"quay"), func() { t.Error("nobody is there to wait for") })
	if err != nil {
		t.Fatal(err)
	}
	waited := 0
	_, before, err := Make(out, "quay", "d", false, func() { waited++; unlock() }, func(string) (Figures, error) { return Figures{Set: "quay"}, nil })
	if err != nil || before || waited != 1 {
		t.Errorf("made before %v, waited %d times, %v", before, waited, err)
	}
}

// A run that was ended while a set's old folder gave way to the new one is made good by the next.
func TestMakeAfterAnEndInBetween(t *testing.T) {
	out := t.TempDir()
	work := func(folder string) (Figures, error) { return Figures{Set: "quay"}, nil }
	for _, name := range []string{"quay", replacing + "quay"} {
		if _, _, err := Make(out, name, "d", false, func() {}, work); err != nil {
			t.Fatal(err)
		}
		os.WriteFile(filepath.Join(out, locked+"quay"), nil, 0o600) // nobody holds it
		os.Mkdir(filepath.Join(out, Unfinished+"quay"), 0o755)
		if _, ok := Finished(out, "quay", "d"); ok {
			t.Error("a set that may be worked on counts as finished")
		}
		if _, before, err := Make(out, "quay", "d", false, func() {}, work); err != nil || !before {
			t.Errorf("made anew: %v, %v", before, err)
		}
		if left, _ := os.ReadDir(out); len(left) != 1 {
			t.Errorf("left are %v", left)
		}
	}
}

// Only reports that a batch has written are replaced.
func TestReportsOfOthersStay(t *testing.T) {
	folder := t.TempDir()
	for _, name := range Whole.Outputs(folder) {
		if err := Whole.MayReplace(folder); err != nil {
			t.Fatal(err)
		}
		os.WriteFile(name, []byte("my own\n"), 0o600)
		if err := Whole.MayReplace(folder); err == nil || !strings.Contains(err.Error(), name+": it is there already") {
			t.Error(err)
		}
		os.Remove(name)
	}
	var page bytes.Buffer
	if err := Contact(&page, &Gathered{}); err != nil {
		t.Fatal(err)
	}
	names := Whole.Outputs(folder)
	var report bytes.Buffer
	if err := Report(&report, &Gathered{}); err != nil {
		t.Fatal(err)
	}
	os.WriteFile(names[0], report.Bytes(), 0o600)
	os.WriteFile(names[1], page.Bytes(), 0o600)
	if err := Whole.MayReplace(folder); err != nil {
		t.Error(err)
	}
}

func TestDigestFollowsContent(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a")
	os.WriteFile(file, []byte("one"), 0o600)
	one, err := Digest([]string{"x"}, file)
	if err != nil {
		t.Fatal(err)
	}
	other, _ := Digest([]string{"y"}, file)
	os.WriteFile(file, []byte("two"), 0o600)
	two, _ := Digest([]string{"x"}, file)
	if one == other || one == two {
		t.Error("a change is not seen")
	}
	for name, want := range map[string]string{file + "x": "there is no such file", filepath.Dir(file): "it is a folder. Name a file in it"} {
		if _, err := Digest(nil, name); err == nil || !strings.Contains(err.Error(), want) {
			t.Error(err)
		}
	}
}

// The batch's beginning is kept in its folder.
func TestBegun(t *testing.T) {
	dir := t.TempDir()
	first := time.Date(2026, 3, 2, 10, 20, 0, 5, time.UTC)
	for _, now := range []time.Time{first, first.Add(time.Hour)} {
		if made, err := Begun(dir, "", false, now); err != nil || made.Time() != "2026-03-02T10:20:00Z" {
			t.Errorf("%v, %v", made, err)
		}
	}
	if made, err := Begun(dir, "2020-01-01T00:00:00Z", false, first); err != nil || made.Time() != "2020-01-01T00:00:00Z" {
		t.Errorf("%v, %v", made, err)
	}
	if _, err := Begun(dir, "yesterday", false, first); err == nil {
		t.Error("yesterday is taken")
	}
	os.WriteFile(filepath.Join(dir, BegunName), []byte("{}"), 0o600)
	if _, err := Begun(dir, "", false, first); err == nil || !strings.Contains(err.Error(), "does not say when") {
		t.Error(err)
	}
}

// A time that was asked for is that of the batch when it is run again without; one in place of it
// only where all is made anew.
func TestBegunWhenAsked(t *testing.T) {
	dir := t.TempDir()
	now := time.Date(2026, 3, 2, 10, 20, 0, 0, time.UTC)
	for i, c := range []struct {
		asked     string
		overwrite bool
		want      string
	}{
		{"2020-01-01T00:00:00Z", false, "2020-01-01T00:00:00Z"}, {"", false, "2020-01-01T00:00:00Z"},
		{"2021-01-01T00:00:00Z", false, "2021-01-01T00:00:00Z"}, {"", true, "2020-01-01T00:00:00Z"},
		{"2022-01-01T00:00:00Z", true, "2022-01-01T00:00:00Z"}, {"", false, "2022-01-01T00:00:00Z"},
	} {
		if made, err := Begun(dir, c.asked, c.overwrite, now); err != nil || made.Time() != c.want {
			t.Errorf("run %d: %s, %v; want %s", i+1, made.Time(), err, c.want)
		}
	}
}
