package cgats

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Reading is what was read of one patch. What was not measured is nil.
type Reading struct {
	Names    []string // of the patch, in each field that can name one; see Readings.Named
	Line     int
	Spectrum []float64   // reflectance 0 … 1 at Readings.Wavelengths
	XYZ, Lab *[3]float64 // XYZ with the white at Y 100
	Density  *[3]float64 // through red, green and blue
}

// Readings are those of one table.
type Readings struct {
	Named       []string  // the fields of Reading.Names
	Wavelengths []float64 // nm, rising
	List        []Reading
	Status      string   // of the densities: "A", "T", "E", or "" where the text does not say
	Illuminant  string   // of XYZ and Lab, such as "D50", or "" where the text does not say
	FromPaper   bool     // the text says that densities count from the paper
	Notes       []string // what was taken otherwise than it stands there
}

// names are the fields that can name a patch.
var names = []string{"SAMPLE_ID", "SAMPLE_NAME", "SAMPLE_LOC", "SAMPLE", "STRING", "ID", "NAME", "PATCH", "SAMPLEID", "SAMPLENAME"}

func isName(field string) bool { return slices.Contains(names, field) }

// spectral is a field that holds the reflectance of a wavelength, as CGATS.17 names it
// and in the common other spellings.
var spectral = once(`^(?:SPECTRAL|SPEC|REFLECTANCE|NM|R|LAMBDA)?_?(NM|DEC|PCT)?_?([0-9]{2,4}(?:\.[0-9]+)?)(?:_?NM)?$`)

// once makes an expression when it is first asked for: a worker that starts has no time for it.
func once(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}

// The fields of three values, in their order, and other common spellings.
var triples = map[string][3][]string{
	"XYZ": {{"XYZ_X", "X"}, {"XYZ_Y", "Y"}, {"XYZ_Z", "Z"}},
	"Lab": {{"LAB_L", "L*", "L"}, {"LAB_A", "A*", "A"}, {"LAB_B", "B*", "B"}},
	"density": {
		{"D_RED", "RED", "D_R", "DR", "D_CYAN", "D_C"},
		{"D_GREEN", "GREEN", "D_G", "DG", "D_MAGENTA", "D_M"},
		{"D_BLUE", "BLUE", "D_B", "DB", "D_YELLOW", "D_Y"},
	},
}

// The range of wavelengths in nm: what an instrument reads at all, and what must be there.
const (
	shortest, longest = 300, 1100
	from, to          = 400, 700
	widest            = 20 // between neighbours
)

// Read reads all tables of a text as readings of patches. A table without any is left
// out where another has some.
func Read(text []byte) ([]Readings, error) {
	tables, err := Parse(text)
	if err != nil {
		return nil, err
	}
	var out []Readings
	var why error
	for _, t := range tables {
		r, err := t.readings()
		if errors.Is(err, errNothing) {
			why = fmt.Errorf("line %d: no field holds what was measured; want reflectances such as SPECTRAL_NM380, LAB_L LAB_A LAB_B, XYZ_X XYZ_Y XYZ_Z or D_RED D_GREEN D_BLUE", t.Line)
			continue
		}
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	if len(out) == 0 {
		return nil, why
	}
	return out, nil
}

var errNothing = errors.New("nothing measured")

// columns is where a table has what.
type columns struct {
	names    []int
	spectral []column
	triple   map[string][3]int
	units    map[string]bool // as the fields' names say: DEC, PCT
}

type column struct {
	nm float64
	at int
}

func (t *Table) readings() (Readings, error) {
	c, err := t.columns()
	if err != nil {
		return Readings{}, err
	}
	if len(c.spectral) == 0 && len(c.triple) == 0 {
		return Readings{}, errNothing
	}
	if len(c.names) == 0 {
		return Readings{}, fmt.Errorf("line %d: no field names the patch; add SAMPLE_ID", t.Line)
	}
	out := Readings{}
	for _, at := range c.names {
		out.Named = append(out.Named, t.Fields[at])
	}
	for _, s := range c.spectral {
		out.Wavelengths = append(out.Wavelengths, s.nm)
	}
	if err := out.keywords(t); err != nil {
		return out, err
	}
	for _, set := range t.Sets {
		r := Reading{Line: set.Line}
		for _, at := range c.names {
			r.Names = append(r.Names, strings.TrimSpace(set.Values[at]))
		}
		for _, s := range c.spectral {
			v, err := number(t, set, s.at)
			if err != nil {
				return out, err
			}
			r.Spectrum = append(r.Spectrum, v)
		}
		for what, at := range c.triple {
			var v [3]float64
			for i := range at {
				if v[i], err = number(t, set, at[i]); err != nil {
					return out, err
				}
			}
			switch what {
			case "XYZ":
				r.XYZ = &v
			case "Lab":
				r.Lab = &v
			default:
				r.Density = &v
			}
		}
		out.List = append(out.List, r)
	}
	return out, out.scale(t, c)
}

// columns finds the fields.
func (t *Table) columns() (columns, error) {
	c := columns{triple: map[string][3]int{}, units: map[string]bool{}}
	seen := map[float64]string{}
	for i, f := range t.Fields {
		if isName(f) {
			c.names = append(c.names, i)
			continue
		}
		if (f == "SPECTRAL_PCT" || f == "SPECTRAL_DEC") && i > 0 && t.Fields[i-1] == "SPECTRAL_NM" {
			nm, err := t.wavelength(i - 1)
			if err != nil {
				return c, err
			}
			c.units[f[len("SPECTRAL_"):]] = true
			if err := c.add(t, nm, i, seen); err != nil {
				return c, err
			}
			continue
		}
		if m := spectral().FindStringSubmatch(f); m != nil {
			nm, err := strconv.ParseFloat(m[2], 64)
			if err != nil {
				return c, fmt.Errorf("line %d: the field %.30s has no wavelength", t.Line, f)
			}
			if m[1] != "NM" {
				c.units[m[1]] = true
			}
			if err := c.add(t, nm, i, seen); err != nil {
				return c, err
			}
			continue
		}
		if j := slices.Index(t.Fields[:i], f); j >= 0 && f != "SPECTRAL_NM" {
			return c, fmt.Errorf("line %d: the field %.30s stands twice; leave one out", t.Line, f)
		}
	}
	if err := t.checkWavelengths(c.spectral); err != nil {
		return c, err
	}
	slices.SortFunc(c.spectral, func(a, b column) int { return int(math.Copysign(1, a.nm-b.nm)) })
	for what, fields := range triples {
		at, found := [3]int{}, 0
		for i, spellings := range fields {
			at[i] = slices.IndexFunc(t.Fields, func(f string) bool { return slices.Contains(spellings, f) })
			if at[i] >= 0 {
				found++
			}
		}
		if found == len(at) {
			c.triple[what] = at
		} else if found > 0 && len(c.spectral) == 0 {
			missing := fields[slices.IndexFunc(at[:], func(a int) bool { return a < 0 })][0]
			return c, fmt.Errorf("line %d: the field %s is missing; export all three", t.Line, missing)
		}
	}
	return c, nil
}

func (c *columns) add(t *Table, nm float64, at int, seen map[float64]string) error {
	if other, twice := seen[nm]; twice {
		return fmt.Errorf("line %d: %g nm stands twice, as %.30s and as %.30s; leave one out", t.Line, nm, other, t.Fields[at])
	}
	if nm < shortest || nm > longest {
		return fmt.Errorf("line %d: %g in the field %.30s is no wavelength of light in nm; correct the name", t.Line, nm, t.Fields[at])
	}
	seen[nm] = t.Fields[at]
	c.spectral = append(c.spectral, column{nm, at})
	return nil
}

// wavelength is what a field SPECTRAL_NM holds, which must be the same in all sets.
func (t *Table) wavelength(at int) (float64, error) {
	nm := 0.0
	for i, set := range t.Sets {
		v, err := number(t, set, at)
		if err != nil {
			return 0, err
		}
		if i > 0 && v != nm {
			return 0, fmt.Errorf("line %d: the wavelength is %g nm here and %g in the line before; all patches must be read at the same ones", set.Line, v, nm)
		}
		nm = v
	}
	return nm, nil
}

// checkWavelengths holds the wavelengths, in whatever order, to what a spectrum must
// have.
func (t *Table) checkWavelengths(c []column) error {
	if len(c) == 0 {
		return nil
	}
	var nm []float64
	for _, s := range c {
		nm = append(nm, s.nm)
	}
	slices.Sort(nm)
	if nm[0] > from || nm[len(nm)-1] < to {
		return fmt.Errorf("line %d: the spectra run from %g to %g nm; they must reach from %d to %d: export all wavelengths", t.Line, nm[0], nm[len(nm)-1], from, to)
	}
	for i := range nm[1:] {
		if gap := nm[i+1] - nm[i]; gap > widest && nm[i] < to && nm[i+1] > from {
			return fmt.Errorf("line %d: there is no wavelength between %g and %g nm; steps may be %d nm at most: export all wavelengths", t.Line, nm[i], nm[i+1], widest)
		}
	}
	return nil
}

// number reads one value.
func number(t *Table, set Set, at int) (float64, error) {
	text := set.Values[at]
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err == nil && !math.IsNaN(v) && !math.IsInf(v, 0):
		return v, nil
	case strings.Contains(text, ",") && !strings.Contains(text, "."):
		return 0, fmt.Errorf("line %d: “%.20s” in the field %.30s has a comma for the decimals; write points", set.Line, text, t.Fields[at])
	case text == "":
		return 0, fmt.Errorf("line %d: the field %.30s is empty; fill it in, or leave the whole line out", set.Line, t.Fields[at])
	}
	return 0, fmt.Errorf("line %d: “%.20s” in the field %.30s is no number; measure the patch again, or leave the line out", set.Line, text, t.Fields[at])
}
