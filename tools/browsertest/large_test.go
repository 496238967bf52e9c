package browsertest

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"threeply/proof/scan"
	"threeply/proof/sheet"
)

// largeWidth makes of the demo's plates some of 100 megapixels.
const largeWidth = 11800

// BenchmarkLargePlates opens three plates of 100 megapixels in a fresh browser and
// reports the most memory that the page's process has taken, its workers included:
// until the plates were open, until they were registered and shown, until a second such set was
// opened over them and registered (to reach: 2500 MB), and until its likely print was saved as a
// PNG; how long that takes (to reach: 9 s); and how long a cancel of register takes to be seen (to
// reach: 200 ms).
func BenchmarkLargePlates(b *testing.B) {
	ordinary(b)
	if _, err := os.Stat("/proc/self/status"); err != nil {
		b.Skip("SKIPPED: this system does not tell a process's memory under /proc")
	}
	files := enlarged(b, "large", largeWidth)
	var more []string
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			b.Fatal(err)
		}
		second := strings.Replace(name, "large-", "second-", 1)
		if err := os.WriteFile(second, append(data, 0), 0o600); err != nil { // readers pass over what follows the picture
			b.Fatal(err)
		}
		more = append(more, second)
	}
	for b.Loop() {
		p := open(b, 1400, 860)
		p.waitRegistered()
		p.openLarge("large", files)
		b.ReportMetric(p.peak(), "MB-open")
		p.waitLarge(b)
		b.ReportMetric(p.peak(), "MB-peak")
		p.openLarge("second", more)
		p.waitLarge(b)
		b.ReportMetric(p.peak(), "MB-second")
		p.timeSaving(b)
		b.ReportMetric(p.peak(), "MB-saved")
		b.ReportMetric(p.cancelRegister(), "ms-cancel")
	}
}

// openLarge drops a large set and waits until it is open.
func (p *page) openLarge(name string, files []string) {
	p.t.Helper()
	p.drop(files...)
	for _, share := range []string{"1/3", "2/3", "1"} { // each plate takes a while
		p.waitFor(`v.jobs[0]?.share > ` + share + ` || v.plates.every(q => q.file.startsWith(` + quoted(name) + `)) || v.messages.some(m => m.kind === "error")`)
	}
	p.waitFor(`v.plates.every(q => q.file.startsWith(` + quoted(name) + `)) || v.messages.some(m => m.kind === "error")`)
}

// waitLarge waits until what is open is registered and shown.
func (p *page) waitLarge(b *testing.B) {
	b.Helper()
	p.waitFor(`v.registered === "auto" && v.idle || v.messages.some(m => m.kind === "error")`)
	p.shot()
	for _, words := range p.view().errors() {
		b.Errorf("the page says: %s", words)
	}
}

// enlarged writes the demo's plates so wide, under names that begin so.
func enlarged(b *testing.B, begin string, width int) (files []string) {
	b.Helper()
	folder := b.TempDir()
	for i, plate := range demoPlates(b) {
		name := filepath.Join(folder, begin+"-"+filepath.Base(plate))
		if err := enlarge(plate, name, width, uint64(i)); err != nil {
			b.Fatal(err)
		}
		files = append(files, name)
	}
	return files
}

// enlarge writes a plate so wide, with grain of its own, as a Deflate TIFF.
func enlarge(plate, name string, width int, seed uint64) error {
	data, err := os.ReadFile(plate)
	if err != nil {
		return err
	}
	s, err := scan.DecodeFrom(plate, scan.Bytes(data), scan.Options{})
	if err != nil {
		return err
	}
	p, times := s.Planes[0], float64(width)/float64(s.W)
	t := sheet.TIFF{W: width, H: int(float64(s.H) * times), Samples: 1, PPI: s.PPI * times}
	t.Row = func(y int, row []uint16) {
		grain := rand.New(rand.NewPCG(seed, uint64(y)))
		for x := range row {
			v := p.Bilinear((float64(x)+0.5)/times-0.5, (float64(y)+0.5)/times-0.5)
			row[x] = uint16(min(max(v*(1+0.02*(2*grain.Float64()-1)), 0), 65535))
		}
	}
	file, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := t.Write(file); err != nil {
		file.Close()
		return err
	}
	return file.Close()
}

// peak is the most memory, in MB, that any process of a page of this browser has
// taken so far: what it held in memory at a time, as the kernel counts it.
func (p *page) peak() float64 {
	p.t.Helper()
	var most float64
	p.renderers(func(folder string) {
		status, err := os.ReadFile(filepath.Join(folder, "status"))
		if err != nil {
			return // it has ended meanwhile
		}
		if found := highWater.FindSubmatch(status); found != nil {
			kB, _ := strconv.ParseFloat(string(found[1]), 64) // digits only
			most = max(most, kB*1024/1e6)
		}
	})
	if most == 0 {
		p.t.Fatal("the browser names no process of a page")
	}
	return most
}

// highWater is the line of /proc/PID/status with the most memory resident, proc(5).
var highWater = regexp.MustCompile(`VmHWM:\s+(\d+) kB`)

// cancelRegister registers again, cancels it half a second later, and gives the
// milliseconds from the cancel to a page that is at rest.
func (p *page) cancelRegister() float64 {
	p.t.Helper()
	p.command("station", map[string]any{"id": "register"})
	return eval[float64](p, `(async () => {
		const wait = (ms) => new Promise(done => setTimeout(done, ms));
		const busy = () => JSON.parse(threeply.view()).jobs.length > 0;
		[...document.querySelectorAll("#panel-register button")].find(b => /^Register/.test(b.textContent)).click();
		while (!busy()) await wait(1);
		await wait(500);
		const began = performance.now();
		document.querySelector("#busy button").click();
		while (busy()) await wait(1);
		return performance.now() - began;
	})()`)
}
