package pigment

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"threeply/proof/spectrum"
)

// Schema is the JSON schema of a palette file.
//
//go:embed palette.schema.json
var Schema []byte

// Version is the version of palette files that Write writes. Read reads those before it
// too: version 1 knew nothing of measured spectra, version 2 nothing of measured fading and
// of what was seen by eye, version 3 nothing of the neutral of the light and the deep greys and of
// how sure they are, version 4 nothing of how many sheets tell it.
const Version = 5

// file is a palette on disk: a Palette as it is written, given as it is read.
type file[P Palette | given] struct {
	Threeply string `json:"threeply"` // always "palette"
	Version  int    `json:"version"`
	Palette  P      `json:"palette"`
}

// given is a palette before it is known to be whole.
type given struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	Era     string  `json:"era"`
	Yellow  amounts `json:"yellow"`
	Magenta amounts `json:"magenta"`
	Cyan    amounts `json:"cyan"`

	Measured *Measurement `json:"measured"`
}

// amounts is a tissue without its own way of being read, so that the decoder
// counts offsets in the whole file.
type amounts Tissue

// notGiven is what is read into: an amount that the text leaves out stays no
// number, which Check calls missing. Nothing stands for none of them: a haze of
// 0 is a tissue that does not scatter.
func notGiven() amounts {
	return amounts{Load: math.NaN(), Haze: math.NaN(), CoatMicron: math.NaN()}
}

// UnmarshalJSON reads a tissue of a session or of a command.
func (t *Tissue) UnmarshalJSON(text []byte) error {
	a := notGiven()
	err := json.Unmarshal(text, &a)
	*t = Tissue(a)
	return err
}

// Write returns the palette as the text of a palette file; see Schema.
func (p Palette) Write() ([]byte, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	text, err := json.MarshalIndent(file[Palette]{"palette", Version, p}, "", "  ")
	return append(text, '\n'), err
}

// Read reads a palette file. An error begins with the line and says the reason
// and what to do; whoever opened the file adds its name.
func Read(text []byte) (Palette, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // as some programs begin their texts
	// Who writes what is looked at first: a newer version may have other keys.
	var head struct {
		Threeply string `json:"threeply"`
		Version  int    `json:"version"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return Palette{}, placed(text, err)
	}
	if head.Threeply != "palette" {
		return Palette{}, errNoPalette
	}
	if head.Version < 1 || head.Version > Version {
		return Palette{}, fmt.Errorf("line %d: version %d is not supported, only 1 to %d; save the palette again with this version of the tool", lineAt(text, find(text, "version")), head.Version, Version)
	}
	f := file[given]{Palette: given{Yellow: notGiven(), Magenta: notGiven(), Cyan: notGiven()}}
	if err := json.Unmarshal(text, &f); err != nil {
		return Palette{}, placed(text, err)
	}
	if path := foreign(text); path != nil {
		return Palette{}, fmt.Errorf("line %d: nothing is called “%v” here; remove it or correct its spelling", lineAt(text, find(text, path...)), path[len(path)-1])
	}
	p := Palette{f.Palette.ID, f.Palette.Name, f.Palette.Era, Tissue(f.Palette.Yellow), Tissue(f.Palette.Magenta), Tissue(f.Palette.Cyan), f.Palette.Measured}
	if err := p.Check(); err != nil {
		return Palette{}, placed(text, err)
	}
	if b, ok := PaletteByID(p.ID); ok && !b.Same(p) {
		return Palette{}, fmt.Errorf("line %d: “%s” is the id of a built-in palette; give yours another", lineAt(text, find(text, "palette", "id")), b.ID)
	}
	return p, nil
}

// foreign returns the path to a key that palette files do not have, letter by
// letter, or nil. The decoder would pass it over, or take “Load” for “load”.
func foreign(text []byte) []any {
	all := Palettes()[0]
	all.Yellow.Hardening = Hardening{1, 1, new(float64), []Printed{{0, 0}, {1, 1}}}
	all.Yellow.Faded = &Faded{1, 1}
	all.Magenta.Faded, all.Cyan.Faded = all.Yellow.Faded, all.Yellow.Faded
	all.Yellow.Measured = &Spectra{K: spectrum.Sample(func(float64) float64 { return 1 })}
	all.Magenta.Hardening, all.Cyan.Hardening = all.Yellow.Hardening, all.Yellow.Hardening
	all.Magenta.Measured, all.Cyan.Measured = all.Yellow.Measured, all.Yellow.Measured
	all.Measured = &Measurement{Date: "2026-01-01", Way: Ways[0], Seen: &Seen{Light: "A1", Deep: "A1"}, Doubt: [3]float64{1, 1, 1}, Told: [3]float64{1, 1, 1}, Expected: 1}
	whole, err := all.Write()
	if err != nil {
		return nil
	}
	var given, like any
	if json.Unmarshal(text, &given) != nil || json.Unmarshal(whole, &like) != nil {
		return nil
	}
	return foreignTo(given, like)
}

func foreignTo(given, like any) []any {
	switch like := like.(type) {
	case map[string]any:
		values, _ := given.(map[string]any)
		for _, key := range slices.Sorted(maps.Keys(values)) {
			of, known := like[key]
			if !known {
				return []any{key}
			}
			if path := foreignTo(values[key], of); path != nil {
				return append([]any{key}, path...)
			}
		}
	case []any:
		values, _ := given.([]any)
		for i, v := range values {
			if path := foreignTo(v, like[0]); path != nil {
				return append([]any{i}, path...)
			}
		}
	}
	return nil
}

// Same tells whether two palettes have the same text.
func (p Palette) Same(q Palette) bool {
	a, errA := json.Marshal(p)
	b, errB := json.Marshal(q)
	return errA == nil && errB == nil && bytes.Equal(a, b)
}

// placed puts the line before an error of the decoder or of Check.
func placed(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	var fault *Fault
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("line %d: this is not JSON: %v; correct it or save the palette again", lineAt(text, syntax.Offset-1), err)
	case errors.As(err, &kind):
		if kind.Field == "" {
			return errNoPalette
		}
		return fmt.Errorf("line %d: “%s” cannot be %s; see the schema", lineAt(text, kind.Offset-1), kind.Field, withArticle(kind.Value))
	case errors.As(err, &fault):
		path := append([]any{"palette"}, fault.Path...)
		at := find(text, path...)
		for at < 0 && len(path) > 0 {
			path = path[:len(path)-1]
			at = find(text, path...)
		}
		return fmt.Errorf("line %d: %w", lineAt(text, at), err)
	}
	return fmt.Errorf("line 1: %w", err)
}

var errNoPalette = errors.New("line 1: this is no palette file; open one that was saved from the tissues of this tool")

// withArticle is a decoder's word for a value, such as "a string" or "an array".
func withArticle(value string) string {
	if strings.HasPrefix(value, "array") || strings.HasPrefix(value, "object") {
		return "an " + value
	}
	return "a " + value
}

// lineAt returns the line of an offset, from 1.
func lineAt(text []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(text)))
	return 1 + bytes.Count(text[:offset], []byte("\n"))
}

// find returns the offset where the value at a path of keys and indices ends
// its first token, or -1.
func find(text []byte, path ...any) int64 {
	d := json.NewDecoder(bytes.NewReader(text))
	for _, step := range path {
		open, err := d.Token()
		if err != nil {
			return -1
		}
		found := false
		for i := 0; !found && d.More(); i++ {
			switch step := step.(type) {
			case string:
				key, err := d.Token()
				if open != json.Delim('{') || err != nil {
					return -1
				}
				found = key == step
			case int:
				if open != json.Delim('[') {
					return -1
				}
				found = i == step
			}
			if !found {
				var skip json.RawMessage
				if d.Decode(&skip) != nil {
					return -1
				}
			}
		}
		if !found {
			return -1
		}
	}
	if _, err := d.Token(); err != nil {
		return -1
	}
	return d.InputOffset()
}
