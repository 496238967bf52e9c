package view

import (
	"fmt"
	"slices"

	"threeply/proof/pigment"
)

// Filled is what stands in fields of the page that change neither session nor pictures: how a
// proof is saved, a table that is typed and not taken yet. A field that is not there is as a
// newcomer finds it.
type Filled []Filling

// Filling is a text in one of Fields.
type Filling struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// Field is what can stand in such a field.
type Field struct {
	Choices []string // all that can, as a newcomer finds it first; nil where anything is typed
	Most    int      // bytes of what is typed
}

func oneOf(choices ...string) Field { return Field{Choices: choices} }

// Lengths of what is typed, in bytes. The readings of a test sheet's 120 patches with spectra
// of 36 bands are some 30,000.
const (
	mostFigure = 40
	mostName   = 240 // 60 letters of any script
	mostPoints = 600 // three points in a scan, and which scan
	mostTable  = 200_000
)

// Fields are those fields by name.
var Fields = fields()

func fields() map[string]Field {
	layers := oneOf(pigment.Cyan.String(), pigment.Magenta.String(), pigment.Yellow.String())
	out := map[string]Field{
		"proof.file":   oneOf("png", "tiff"),
		"proof.space":  oneOf("", "srgb", "p3"), // "" is the widest that the screen shows
		"proof.cut":    oneOf("picture", "plates"),
		"proof.margin": oneOf("no", "yes"),

		"film.by":     oneOf("uv", "tablet", "visual", "status"),
		"film.table":  {Most: mostTable},
		"film.tablet": {Most: mostTable},
		"tints.table": {Most: mostTable},

		"readings.status": oneOf("A", "T", "E"),
		"readings.pasted": {Most: mostTable},
		"scan.points":     {Most: mostPoints},

		"paper.name": {Most: mostName},
		"paper.L":    {Most: mostFigure},
		"paper.a":    {Most: mostFigure},
		"paper.b":    {Most: mostFigure},

		"strip.layer":  layers,
		"strip.dose":   {Most: mostFigure},
		"strip.before": {Most: mostFigure},
		"strip.after":  {Most: mostFigure},

		"thirds.layer": layers,
		"coats.layer":  layers,
	}
	for _, p := range pigment.Printers() {
		of := "wedge." + p.String() + "."
		out[of+"table"] = Field{Most: mostTable}
		out[of+"read"] = oneOf("A", "T", "E", "visual")
		out[of+"exposure"] = Field{Most: mostFigure}
		out[of+"load"] = oneOf("yes", "no")
		out["pigment."+p.String()] = Field{Most: mostFigure} // by Colour Index name, chosen and not added yet
	}
	return out
}

// check tells why text cannot stand in the field.
func (f Field) check(text string) error {
	switch {
	case f.Choices != nil && !slices.Contains(f.Choices, text):
		return fmt.Errorf("“%.20s” is none of its choices", text)
	case f.Choices == nil && len(text) > f.Most:
		return fmt.Errorf("it holds at most %d characters: save a longer table as a file and open that", f.Most)
	}
	return nil
}

func (f Field) first() string {
	if f.Choices == nil {
		return ""
	}
	return f.Choices[0]
}

// Whole gives what stands in every field, by name.
func (f Filled) Whole() map[string]string {
	out := map[string]string{}
	for id, field := range Fields {
		out[id] = field.first()
	}
	for _, one := range f {
		out[one.ID] = one.Text
	}
	return out
}

// sound is what of f can stand in fields: what an older or a newer page kept is left out.
func (f Filled) sound() Filled {
	return slices.DeleteFunc(f, func(one Filling) bool {
		field, ok := Fields[one.ID]
		return !ok || field.check(one.Text) != nil
	})
}

// Fill has a text stand in one of Fields.
type Fill Filling

func (c Fill) apply(v *View, _ Subject) error {
	field, ok := Fields[c.ID]
	if !ok {
		return fmt.Errorf("no field “%.40s”", c.ID)
	}
	if err := field.check(c.Text); err != nil {
		return fmt.Errorf("the field “%s”: %w", c.ID, err)
	}
	filled := slices.DeleteFunc(slices.Clone(v.Filled), func(one Filling) bool { return one.ID == c.ID }) // the model compares it with what it was
	if c.Text != field.first() {
		filled = append(filled, Filling(c))
	}
	v.Filled = filled
	return nil
}
