package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"threeply/proof/command"
	"threeply/proof/label"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
	"threeply/tools/batch"
)

// TestMain lets a test run this program as another process, by asProgram.
func TestMain(m *testing.M) {
	if args := os.Getenv("THREEPLY_ARGS"); args != "" {
		os.Exit(run(strings.Split(args, "\n"), os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// asProgram is this program as another process.
func asProgram(args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "THREEPLY_ARGS="+strings.Join(args, "\n"))
	return c
}

// manifestOf writes a manifest of sets of invented discs, one of them out of register and
// one without a plate.
func manifestOf(t *testing.T, sets int) string {
	t.Helper()
	dir := t.TempDir()
	text := "set,red,green,blue,title,number\n"
	for i := range sets {
		for plate, name := range []string{"red", "green", "blue"} {
			plateOfDiscs(t, dir, fmt.Sprintf("%d-%s.png", i, name), uint64(i+1), 3*plate-i, 2-plate)
		}
		text += fmt.Sprintf("set %d,%[1]d-red.png,%[1]d-green.png,%[1]d-blue.png,Discs,N %[1]d\n", i)
	}
	text += "empty,0-red.png,missing.png,0-blue.png,,\n"
	name := filepath.Join(dir, "sets.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// tree is the content of all files under a folder, by name.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		out[filepath.ToSlash(name)] = string(content)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sameTrees(t *testing.T, got, want map[string]string) {
	t.Helper()
	for _, name := range slices.Sorted(maps.Keys(want)) {
		if content, there := got[name]; !there {
			t.Errorf("%s is missing", name)
		} else if content != want[name] {
			t.Errorf("%s differs: %d bytes, want %d", name, len(content), len(want[name]))
		}
	}
	for name := range got {
		if _, there := want[name]; !there {
			t.Errorf("%s is too many", name)
		}
	}
}

// A batch that is killed and begun again gives what an undisturbed one gives, byte for byte,
// and makes no finished set a second time. So do two shards, merged.
func TestBatchKilledShardedAndMerged(t *testing.T) {
	const sets = 2
	manifest := manifestOf(t, sets)
	options := func(out string, more ...string) []string {
		return append(append([]string{"batch", "-at", "2026-03-02T10:20:00Z", "-palettes", "earth", "-o", out}, more...), manifest)
	}
	dir := t.TempDir()
	whole := filepath.Join(dir, "whole")
	var says bytes.Buffer
	if code := run(options(whole, "-j", "2"), &says, io.Discard); code != 0 || !strings.HasPrefix(says.String(), "3 sets, 0 of them made before, 1 failed: ") {
		t.Fatalf("%d: %s", code, says.String())
	}
	want := tree(t, whole)
	if !strings.Contains(want["report.csv"], "\r\nfailed,0,empty,") || len(want) != sets*9+3 {
		t.Fatalf("%d files, report:\n%s", len(want), want["report.csv"])
	}

	for name, content := range want {
		if !strings.Contains(content, label.Tool()) {
			t.Errorf("%s does not say which version made it", name)
		}
	}

	killed := filepath.Join(dir, "killed")
	c := asProgram(options(killed, "-j", "1")...)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	halfDone := func() bool { // a set is finished and another begun
		done, _ := filepath.Glob(filepath.Join(killed, "set *", batch.RecordName))
		begun, _ := filepath.Glob(filepath.Join(killed, batch.Unfinished+"*", "*"))
		return len(done) > 0 && len(begun) > 0
	}
	for range 6000 {
		if halfDone() {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	c.Process.Kill()
	c.Wait()
	done, _ := filepath.Glob(filepath.Join(killed, "set *", batch.RecordName))
	if len(done) == 0 || len(done) == sets {
		t.Fatalf("killed with %d sets finished", len(done))
	}
	first, err := os.Stat(done[0])
	if err != nil {
		t.Fatal(err)
	}
	says.Reset()
	again := []string{"batch", "-palettes", "earth", "-o", killed, manifest} // the time is kept
	if code := run(again, &says, io.Discard); code != 0 || !strings.HasPrefix(says.String(), fmt.Sprintf("3 sets, %d of them made before, 1 failed: ", len(done))) {
		t.Fatalf("%d: %s", code, says.String())
	}
	if again, err := os.Stat(done[0]); err != nil || !again.ModTime().Equal(first.ModTime()) {
		t.Error("a finished set was made again")
	}
	sameTrees(t, tree(t, killed), want)

	shared := filepath.Join(dir, "shared")
	for _, shard := range []string{"2/2", "1/2"} {
		if code := run(options(shared, "-shard", shard), io.Discard, io.Discard); code != 0 {
			t.Fatal(shard, code)
		}
	}
	reports := []string{filepath.Join(shared, "report-1-of-2.csv"), filepath.Join(shared, "report-2-of-2.csv")}
	if code := run(append([]string{"batch", "merge", "-o", shared}, reports...), io.Discard, io.Discard); code != 0 {
		t.Fatal(code)
	}
	merged := tree(t, shared)
	for name := range merged {
		if strings.Contains(name, "-of-2.") {
			delete(merged, name)
		}
	}
	sameTrees(t, merged, want)

	var warn bytes.Buffer
	if code := run(append([]string{"batch", "merge", "-o", shared}, reports[0], reports[0]), io.Discard, &warn); code != 1 || !strings.Contains(warn.String(), "give each shard once") {
		t.Errorf("%d: %s", code, warn.String())
	}
	if code := run(append([]string{"batch", "merge", "-o", shared}, filepath.Join(shared, "report.csv")), io.Discard, &warn); code != 2 {
		t.Errorf("a report is merged into itself: %d", code)
	}
}

// Two runs of one batch at once share the work, and both end as an undisturbed one does.
func TestBatchTwiceAtOnce(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("SKIPPED: here files.Lock holds nothing up")
	}
	manifest := manifestOf(t, 3)
	dir := t.TempDir()
	options := func(out string) []string {
		return []string{"batch", "-at", "2026-03-02T10:20:00Z", "-palettes", "earth", "-o", filepath.Join(dir, out), manifest}
	}
	if code := run(options("alone"), io.Discard, io.Discard); code != 0 {
		t.Fatal(code)
	}
	first, second := asProgram(options("both")...), asProgram(options("both")...)
	var says [2]bytes.Buffer
	for i, c := range []*exec.Cmd{first, second} {
		c.Stdout = &says[i]
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
	}
	for i, c := range []*exec.Cmd{first, second} {
		if err := c.Wait(); err != nil || !strings.Contains(says[i].String(), ", 1 failed: ") {
			t.Errorf("%v: %s", err, says[i].String())
		}
	}
	sameTrees(t, tree(t, filepath.Join(dir, "both")), tree(t, filepath.Join(dir, "alone")))
}

// Shards are merged as one run where a manifest names a set twice, and where names look like
// formulas; a shard that is missing is said, one that is given twice refused.
func TestMergeOfOddShards(t *testing.T) {
	manifest := manifestOf(t, 1)
	const plates = ",0-red.png,0-green.png,0-blue.png,=1+1\n"
	if err := os.WriteFile(manifest, []byte("set,red,green,blue,title\n-3"+plates+"-3"+plates+"+a"+plates+"x,none.png,none.png,none.png,\n-3"+plates), 0o600); err != nil {
		t.Fatal(err)
	}
	whole, shared := filepath.Join(t.TempDir(), "whole"), filepath.Join(t.TempDir(), "shared")
	for _, to := range [][]string{{whole, ""}, {shared, "1/3"}, {shared, "2/3"}, {shared, "3/3"}} {
		if code := run([]string{"batch", "-plates=false", "-at", "2026-03-02T10:20:00Z", "-o", to[0], "-shard", to[1], manifest}, io.Discard, io.Discard); code != 0 {
			t.Fatal(to, code)
		}
	}
	report := func(i int) string { return filepath.Join(shared, fmt.Sprintf("report-%d-of-3.csv", i)) }
	merge := func(reports ...string) (int, string) {
		var says bytes.Buffer
		return run(append([]string{"batch", "merge", "-o", shared}, reports...), &says, &says), says.String()
	}
	if code, says := merge(report(1), report(3)); code != 0 || !strings.Contains(says, "; no report was given of the shards 2/3") {
		t.Errorf("%d: %s", code, says)
	}
	if code, says := merge(report(1), report(2), report(3)); code != 0 || strings.Contains(says, "no report") {
		t.Errorf("%d: %s", code, says)
	}
	for _, name := range []string{"report.csv", "contact.html"} {
		one, _ := os.ReadFile(filepath.Join(whole, name))
		other, _ := os.ReadFile(filepath.Join(shared, name))
		if len(one) == 0 || !bytes.Equal(one, other) {
			t.Errorf("%s: merged\n%s\nwant\n%s", name, other, one)
		}
	}
	var says bytes.Buffer
	if code := run([]string{"batch", "merge", "-o", manifest, report(2)}, io.Discard, &says); code != 1 || !strings.Contains(says.String(), manifest+": it is a file, or lies in one, so it cannot be a folder. Name another") {
		t.Errorf("%d: %s", code, says.String())
	}
	if code, says := merge(report(2), report(2)); code != 1 || !strings.Contains(says, "give each shard once") {
		t.Errorf("%d: %s", code, says)
	}
}

// From whichever folder a batch is begun, and wherever its scans are moved together with their
// manifest, the sets stay what they are.
func TestBatchFromAnotherFolder(t *testing.T) {
	manifest := manifestOf(t, 1)
	scans := filepath.Dir(manifest)
	for i, pattern := range []string{"sets.csv", "{set}-{plate}.png"} {
		out := filepath.Join(t.TempDir(), "out")
		work := func(folder, name, made string) {
			t.Helper()
			t.Chdir(folder)
			var says bytes.Buffer
			if code := run([]string{"batch", "-o", out, name}, &says, io.Discard); code != 0 || !strings.Contains(says.String(), "sets, "+made+" of them made before") {
				t.Errorf("%s from %s: %d, %s", name, folder, code, says.String())
			}
		}
		work(scans, pattern, "0")
		before := tree(t, out)
		work(filepath.Dir(scans), filepath.Join(filepath.Base(scans), pattern), "1")
		work(filepath.Dir(scans), filepath.Join(scans, pattern), "1")
		moved := filepath.Join(t.TempDir(), fmt.Sprint("moved", i))
		if err := os.Rename(scans, moved); err != nil {
			t.Fatal(err)
		}
		scans = moved
		work(moved, filepath.Join(moved, pattern), "1")
		delete(before, "report.csv") // where a missing scan is looked for is said there
		delete(before, "contact.html")
		after := tree(t, out)
		delete(after, "report.csv")
		delete(after, "contact.html")
		sameTrees(t, after, before)
	}
}

// Scans that have changed make their set anew, where that is asked for, and no other.
func TestBatchFollowsItsScans(t *testing.T) {
	manifest := manifestOf(t, 2)
	out := filepath.Join(t.TempDir(), "out")
	work := func(more ...string) string {
		t.Helper()
		var says bytes.Buffer
		if code := run(append(append([]string{"batch", "-plates=false", "-o", out}, more...), manifest), &says, io.Discard); code != 0 {
			t.Fatal(code)
		}
		return says.String()
	}
	if says := work(); !strings.HasPrefix(says, "3 sets, 0 of them made before, 1 failed") {
		t.Error(says)
	}
	plateOfDiscs(t, filepath.Dir(manifest), "1-red.png", 2, 9, 9)
	before := tree(t, filepath.Join(out, "set 1"))
	if says := work(); !strings.HasPrefix(says, "3 sets, 1 of them made before, 2 failed") {
		t.Error(says)
	}
	sameTrees(t, tree(t, filepath.Join(out, "set 1")), before)
	if says := work("-overwrite"); !strings.HasPrefix(says, "3 sets, 1 of them made before, 1 failed") {
		t.Error(says)
	}
	if after := tree(t, filepath.Join(out, "set 1")); after[batch.RecordName] == before[batch.RecordName] {
		t.Error("the set was not made anew")
	}
}

// A set whose folder holds scans of this batch, its own or another set's, is not made anew.
func TestBatchKeepsWhatItReads(t *testing.T) {
	manifest := manifestOf(t, 1)
	dir := filepath.Dir(manifest)
	out := filepath.Join(dir, "out")
	if code := run([]string{"batch", "-o", out, manifest}, io.Discard, io.Discard); code != 0 {
		t.Fatal(code)
	}
	before := tree(t, filepath.Join(out, "set 0"))
	link := filepath.Join(dir, "link")
	if err := os.Symlink(out, link); err != nil {
		t.Skip(err)
	}
	again := filepath.Join(dir, "again.csv")
	plates := "out/set 0/red.tif,link/set 0/green.tif,out/set 0/blue.tif"
	for _, set := range []string{"set 0," + plates, "Set 0,0-red.png,0-green.png,0-blue.png\nother," + plates} {
		if err := os.WriteFile(again, []byte("set,red,green,blue\n"+set+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, to := range []string{out, link} {
			if code := run([]string{"batch", "-plates=false", "-overwrite", "-o", to, again}, io.Discard, io.Discard); code != 0 {
				t.Fatal(code)
			}
			sameTrees(t, tree(t, filepath.Join(out, "set 0")), before)
			if report, _ := os.ReadFile(filepath.Join(out, "report.csv")); strings.HasPrefix(set, "set 0") && !strings.Contains(string(report), "scans or a session that this batch reads lie in it") {
				t.Errorf("%s", report)
			}
		}
	}
}

// A palette that is named twice has one proof; one that nobody knows is told before a set is
// registered.
func TestBatchPalettes(t *testing.T) {
	manifest := manifestOf(t, 1)
	out := filepath.Join(t.TempDir(), "out")
	var warn bytes.Buffer
	if code := run([]string{"batch", "-plates=false", "-palettes", "earth,chrome,earth", "-o", out, manifest}, io.Discard, &warn); code != 0 {
		t.Fatal(code)
	}
	if proofs, _ := filepath.Glob(filepath.Join(out, "set 0", "proof-*.png")); len(proofs) != 2 {
		t.Errorf("%q: %s", proofs, warn.String())
	}
	s := batch.Set{Name: "quay", Says: map[string]string{batch.Palettes: "earth, none-such"}}
	if _, err := (batchOptions{}).palettesOf(command.NewHistory(sessiontest.Opened()), s); err == nil || !strings.Contains(err.Error(), "no palette “none-such”") {
		t.Error(err)
	}
}

// A recipe gives a set its tissues and its paper, and nothing of the plates that it was made for;
// the proof is that of “threeply proof” by these. A recipe that changes makes another set.
func TestBatchByARecipe(t *testing.T) {
	manifest := manifestOf(t, 1)
	dir := filepath.Dir(manifest)
	recipe := func(paper string) {
		kept, _ := saved(t, t.TempDir(), func(s *session.State) {
			s.Title, s.Palette, s.Paper, s.Offsets[0] = "Quay at noon", "earth", paper, session.Offset{DX: 900, DY: 700}
		})
		text, err := os.ReadFile(kept)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "recipe.json"), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	recipe("cream")
	row := "set,red,green,blue,recipe,session\nquay,0-red.png,0-green.png,0-blue.png,recipe.json,"
	if err := os.WriteFile(manifest, []byte(row+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	work := func() string {
		if code := run([]string{"batch", "-plates=false", "-o", out, manifest}, io.Discard, io.Discard); code != 0 {
			t.Fatal(code)
		}
		report, err := os.ReadFile(filepath.Join(out, "report.csv"))
		if err != nil {
			t.Fatal(err)
		}
		return string(report)
	}
	if report := work(); strings.Contains(report, "Quay at noon") || !strings.Contains(report, "small-earth.jpg") {
		t.Error(report)
	}
	alone := filepath.Join(dir, "alone.png")
	at := func(name string) string { return filepath.Join(dir, name) }
	var warn bytes.Buffer
	if code := run([]string{"proof", "-palette", "earth", "-paper", "cream", "-crop", "-o", alone, at("0-red.png"), at("0-green.png"), at("0-blue.png")}, io.Discard, &warn); code != 0 {
		t.Fatal(warn.String())
	}
	if !bytes.Equal(pixelsOf(t, filepath.Join(out, "quay", "proof-earth.png")), pixelsOf(t, alone)) {
		t.Error("the proof is not that of the recipe")
	}
	recipe("rag")
	if report := work(); !strings.Contains(report, "made of other scans, in another way") {
		t.Error(report)
	}
	if err := os.WriteFile(manifest, []byte(row+"recipe.json\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if report := work(); !strings.Contains(report, "line 2 names a session, which has a recipe, and a recipe too") {
		t.Error(report)
	}
}

func TestBatchRefusals(t *testing.T) {
	manifest := manifestOf(t, 0)
	text, err := os.ReadFile(manifest)
	if err != nil {
		t.Fatal(err)
	}
	over := filepath.Join(t.TempDir(), "report.csv") // a manifest where the report would go
	if err := os.WriteFile(over, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if code := run([]string{"batch", "-o", filepath.Dir(over), over}, io.Discard, io.Discard); code == 0 {
		t.Error("a manifest is written over")
	}
	if now, _ := os.ReadFile(over); !bytes.Equal(now, text) {
		t.Errorf("the manifest holds %q", now)
	}
	var says bytes.Buffer
	if code := run([]string{"batch", "-o", t.TempDir(), "scan_{plate}.tif"}, io.Discard, &says); code == 0 || !strings.Contains(says.String(), "a pattern holds {set} once") {
		t.Errorf("a pattern without sets: %s", says.String())
	}
	for want, args := range map[string][]string{
		"give one manifest": {"batch"}, "-shard": {"batch", "-shard", "3/2", manifest}, "-j 0": {"batch", "-j", "0", manifest},
		"-o is missing": {"batch", "-o", "", manifest}, "no layout “x”": {"batch", "-layout", "x", manifest},
		"-encoding \"linear,sRGB\": give one for all files": {"batch", "-encoding", "linear,sRGB", manifest},
		"-encoding: the encoding \"liner\" is not known":    {"batch", "-encoding", "liner", manifest},
		"no plate “x”": {"batch", "-key", "x", manifest}, "there are srgb and p3": {"batch", "-space", "x", manifest},
		"give ids": {"batch", "-palettes", "./mine.json", manifest}, "no report is named": {"batch", "merge"},
	} {
		var warn bytes.Buffer
		if code := run(args, io.Discard, &warn); code != 2 || !strings.Contains(warn.String(), want) {
			t.Errorf("%q: %d, %s", args, code, warn.String())
		}
	}
}
