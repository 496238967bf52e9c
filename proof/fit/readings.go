package fit

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"threeply/proof/cgats"
	"threeply/proof/spectrum"
	"threeply/proof/testsheet"
)

// Ways of measuring.
const (
	Spectra      = "spectra"
	Colours      = "colours"   // CIELAB or XYZ
	Densitometer = "densities" // through red, green and blue
	Scan         = "scan"      // densities too, through the channels of a scanner
)

// read is what was read of one patch: the means of its readings.
type read struct {
	curve   spectrum.Curve
	lab     spectrum.Lab // under its light; under D50 of spectra
	density [3]float64   // absolute
	sigma   [3]float64   // of a scan: the standard deviations of the densities
	line    string       // where it was read, for messages
	file    string       // the file of that
}

// Readings are those of one sheet, ready to be fitted to.
type Readings struct {
	Way   string
	Notes []string
	Mind  []string // sentences that are to be read before anything else

	step, from, to int // samples of a spectrum.Curve that the instrument told
	light          spectrum.Light
	status         spectrum.Status
	paperZero      bool
	absolute       bool // the densities were brought from the paper to absolute ones
	contradicted   bool // some patch was read as two colours
	by             map[string]*read
}

// File is one file of readings.
type File struct {
	Name string
	Text []byte
}

// Take reads files of readings of a sheet, several of them, or several readings of a
// patch, as repeats. status is that of densities where the files do not say it, "" for
// none. An error names the file, mostly the line, the reason and what to do.
func Take(sheet *testsheet.Sheet, status string, files ...File) (*Readings, error) {
	out := &Readings{by: map[string]*read{}, step: 1, to: spectrum.N - 1}
	out.light, _ = spectrum.LightByID("D50")
	known := false
	sums := map[string][]read{}
	for _, f := range files {
		tables, err := cgats.Read(f.Text)
		if err != nil {
			return nil, fmt.Errorf("%s, %w", f.Name, err)
		}
		for _, t := range tables {
			if err := out.take(f.Name, sheet, t, status, &known, sums); err != nil {
				return nil, err
			}
			for _, note := range t.Notes {
				out.Notes = append(out.Notes, f.Name+": "+note+".")
			}
		}
	}
	if !known {
		return nil, fmt.Errorf("there are no readings; name the files that hold them")
	}
	out.average(sums)
	if out.contradicted {
		out.Mind = append(out.Mind, "Some patches were read as two colours: see the notes.")
	}
	err := out.whole(sheet)
	if err == nil {
		err = out.printed(sheet)
	}
	if err != nil {
		var names []string
		for _, f := range files {
			names = append(names, f.Name)
		}
		return nil, fmt.Errorf("%s: %w", strings.Join(names, ", "), err)
	}
	return out, nil
}

// take sorts one table in.
func (r *Readings) take(file string, sheet *testsheet.Sheet, t cgats.Readings, status string, known *bool, sums map[string][]read) error {
	way := Densitometer
	switch first := t.List[0]; {
	case len(t.Wavelengths) > 0:
		way = Spectra
	case first.Lab != nil || first.XYZ != nil:
		way = Colours
	}
	if *known && way != r.Way {
		return fmt.Errorf("%s, line %d: these are %s, those before are %s; fit one way of measuring at a time", file, t.List[0].Line, way, r.Way)
	}
	r.Way, *known = way, true
	field, err := named(file, sheet, t)
	if err != nil {
		return err
	}
	switch way {
	case Spectra:
		r.grid(t.Wavelengths)
	case Colours:
		if t.Illuminant != "" {
			light, ok := spectrum.LightByID(t.Illuminant)
			if !ok {
				return fmt.Errorf("%s, line %d: colours under %s cannot be used; export them under D50, or export spectra", file, t.List[0].Line, t.Illuminant)
			}
			r.light = light
		}
	default:
		id := t.Status
		if id == "" {
			id = status
		}
		var ok bool
		if r.status, ok = spectrum.StatusByID(id); !ok {
			return fmt.Errorf("%s, line %d: the text does not say which status the densities are; say which: A, T or E", file, t.List[0].Line)
		}
		r.paperZero = r.paperZero || t.FromPaper
	}
	for _, one := range t.List {
		id := placeNamed(one.Names[field])
		if _, ok := sheet.Find(id); !ok {
			continue // named says how many
		}
		v := read{line: fmt.Sprintf("%s, line %d", file, one.Line), file: file}
		switch way {
		case Spectra:
			v.curve = resampled(t.Wavelengths, one.Spectrum)
			for i, x := range v.curve {
				v.curve[i] = max(x, 0)
			}
			v.lab = r.light.Lab(v.curve)
		case Colours:
			if one.Lab != nil {
				v.lab = *one.Lab
			} else {
				v.lab = spectrum.XYZ(*one.XYZ).Lab(r.light.White)
			}
		default:
			v.density = *one.Density
		}
		sums[id] = append(sums[id], v)
	}
	return nil
}

// named finds the field that names the patches: that with the most places of the sheet.
func named(file string, sheet *testsheet.Sheet, t cgats.Readings) (int, error) {
	best, most := 0, -1
	for f := range t.Named {
		n := 0
		for _, one := range t.List {
			if _, ok := sheet.Find(placeNamed(one.Names[f])); ok {
				n++
			}
		}
		if n > most {
			best, most = f, n
		}
	}
	strange := len(t.List) - most
	for _, one := range t.List {
		if _, ok := sheet.Find(placeNamed(one.Names[best])); !ok && 10*strange > len(t.List) {
			return 0, fmt.Errorf("%s, line %d: “%.20s” is no patch of this test sheet, nor are %d of %d others; patches are named by their places, A1 to %s: name them so, or give the plan of the sheet that was printed (test-sheet.json)",
				file, one.Line, one.Names[best], strange-1, len(t.List)-1, testsheet.ID(sheet.Rows-1, sheet.Cols-1))
		}
	}
	return best, nil
}

// placeNamed is the place that a text names: b07 is B7.
func placeNamed(name string) string {
	name = strings.ToUpper(name)
	if len(name) < 2 {
		return name
	}
	return name[:1] + strings.TrimLeft(name[1:], "0")
}

// grid narrows the samples that are fitted to what an instrument told.
func (r *Readings) grid(nm []float64) {
	step := 1
	if wide := (nm[len(nm)-1] - nm[0]) / float64(len(nm)-1); wide > 1.5*spectrum.Step {
		step = max(int(math.Round(wide/spectrum.Step)), 2)
	}
	r.step = max(r.step, step)
	r.from = max(r.from, int(math.Ceil((nm[0]-spectrum.First)/spectrum.Step)))
	r.to = min(r.to, int(math.Floor((nm[len(nm)-1]-spectrum.First)/spectrum.Step)))
}

// resampled brings a spectrum to the samples of a Curve, by the cubic through the four
// nearest wavelengths, as the weights of ASTM E308 do; beyond the ends it stays.
func resampled(nm, r []float64) spectrum.Curve {
	return spectrum.Sample(func(x float64) float64 {
		last := len(nm) - 1
		if x <= nm[0] {
			return r[0]
		}
		if x >= nm[last] {
			return r[last]
		}
		i := sort.SearchFloat64s(nm, x)
		if nm[i] == x {
			return r[i]
		}
		from := min(max(i-2, 0), max(last-3, 0))
		to := min(from+4, len(nm))
		v := 0.0
		for a := from; a < to; a++ {
			w := 1.0
			for b := from; b < to; b++ {
				if b != a {
					w *= (x - nm[b]) / (nm[a] - nm[b])
				}
			}
			v += w * r[a]
		}
		return v
	})
}

// average takes the mean of the readings of each patch.
func (r *Readings) average(sums map[string][]read) {
	for _, id := range slices.Sorted(maps.Keys(sums)) {
		all := sums[id]
		r.contradicting(id, all)
		one := &read{line: all[0].line}
		part := 1 / float64(len(all))
		for _, v := range all {
			one.curve = one.curve.Add(v.curve.Scale(part))
			for k := range 3 {
				one.lab[k] += v.lab[k] * part
				one.density[k] += v.density[k] * part
			}
		}
		if r.Way == Spectra {
			one.lab = r.light.Lab(one.curve)
		}
		r.by[id] = one
	}
}

// How far two readings of one patch of a sheet can lie apart: more is no noise.
const (
	mostApart        = 5.0  // ΔE00
	mostDensityApart = 0.15 // in any of the three densities
)

// contradicting notes where two readings of a patch in one file, which is one sheet, lie too far apart.
func (r *Readings) contradicting(id string, all []read) {
	for i, b := range all {
		for _, a := range all[:i] {
			if a.file != b.file {
				continue
			}
			apart, most, unit := 0.0, mostDensityApart, "a density of %.2f"
			if r.byDensity() {
				for k := range 3 {
					apart = max(apart, math.Abs(a.density[k]-b.density[k]))
				}
			} else {
				apart, most, unit = spectrum.DeltaE00(a.lab, b.lab), mostApart, "ΔE00 %.1f"
			}
			if apart > most {
				r.contradicted = true
				r.Notes = append(r.Notes, fmt.Sprintf("%s: %s was read as another colour before, by "+unit+"; measure it again, or take one line out.", b.line, id, apart))
				return
			}
		}
	}
}

// whole says what a fit cannot do without.
func (r *Readings) whole(sheet *testsheet.Sheet) error {
	bare, wedge := 0, [3]int{}
	var missing []string
	for _, p := range sheet.Patches {
		if _, ok := r.by[p.ID]; !ok {
			if p.Ground == testsheet.White {
				missing = append(missing, p.ID)
			}
			continue
		}
		if p.Ground != testsheet.White {
			continue
		}
		if p.Bare() {
			bare++
		}
		for l, has := range p.Has {
			if has && p.Layers() == 1 {
				wedge[l]++
			}
		}
	}
	if bare == 0 {
		return errBare(sheet)
	}
	for l, n := range wedge {
		if n < leastSteps {
			return fmt.Errorf("only %d steps of the %s wedge were read; measure %d or more", n, [...]string{"yellow", "magenta", "cyan"}[l], leastSteps)
		}
	}
	if len(missing) > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("%d patches were not read: %s.", len(missing), someOf(missing)))
	}
	return nil
}

// What readings of a printed sheet show at least (assumed): the lightest bare paper's luminance, of
// 100; and the range of their lightnesses, or of the densities of one channel.
const (
	darkestPaper = 5.0
	leastRange   = 5.0
	leastDenser  = 0.1
)

// printed refuses readings that no sheet of wedges can have.
func (r *Readings) printed(sheet *testsheet.Sheet) error {
	least, most := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	paper, bare := math.Inf(-1), ""
	for _, p := range sheet.Patches {
		one, ok := r.by[p.ID]
		if !ok || p.Ground != testsheet.White {
			continue
		}
		values := [3]float64(one.lab)
		if r.byDensity() {
			values = one.density
		} else if y := one.lab.XYZ(r.light.White)[1]; p.Bare() && y > paper {
			paper, bare = y, p.ID
		}
		for k, v := range values {
			least[k], most[k] = min(least[k], v), max(most[k], v)
		}
	}
	if bare != "" && paper < darkestPaper {
		return fmt.Errorf("the bare paper %s gives back %.1f %% of the light, and no paper is so dark; shares of 1 may be named as percent: correct the names of the fields, or export again", bare, paper)
	}
	alike := most[0]-least[0] < leastRange
	if r.byDensity() {
		alike = max(most[0]-least[0], most[1]-least[1], most[2]-least[2]) < leastDenser
	}
	if alike {
		return fmt.Errorf("all patches were read as nearly the same colour; calibrate the instrument, and read the test sheet patch by patch")
	}
	return nil
}

// errBare says that no bare paper was read.
func errBare(sheet *testsheet.Sheet) error {
	for _, p := range sheet.Patches {
		if p.Bare() && p.Ground == testsheet.White {
			return fmt.Errorf("no reading of the bare paper; measure a bare patch, such as %s", p.ID)
		}
	}
	return fmt.Errorf("the plan has no bare patch on the paper; give the plan that was written with the negatives (test-sheet.json)")
}

// leastSteps is how many steps of a wedge a curve can be fitted to.
const leastSteps = 5

func someOf(ids []string) string {
	if len(ids) > 12 {
		return strings.Join(ids[:12], ", ") + " and others"
	}
	return strings.Join(ids, ", ")
}
