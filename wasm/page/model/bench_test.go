package model

import (
	"strings"
	"testing"

	"threeply/proof/film"
	"threeply/proof/negative"
	"threeply/proof/workshop"
	"threeply/wasm/page/view"
)

// The Sheets station says which way file and film lie, whether the film suffices and
// what to mind; a toxic palette is told of wherever one is.
func TestBench(t *testing.T) {
	d := patches(t)
	d.Session.Palette = "latechrome"
	d.follow()
	if b := d.maker.Make(d.Input).Workbench; len(b.Toxic) == 0 || !strings.Contains(b.Toxic[0], "Lead chromate") || len(b.Lies) > 0 {
		t.Errorf("away from its station: %+v", b)
	}
	d.look(view.GoToStation{ID: "sheets"})
	b := d.maker.Make(d.Input).Workbench
	if !strings.Contains(b.Lies[0], "reads right") || !b.Fits || !strings.Contains(b.Size, "goes on a sheet") || b.Layers[0].Exposure != "" || b.Layers[2].Needs == "" {
		t.Errorf("%+v", b)
	}
	setup, works := negative.Usual, workshop.Usual
	setup.Sheet, setup.Side, setup.Film.Max = "8x10", negative.Base, 0.8
	works.Layers[0].Exposure = 90
	d.Session.Negatives, d.Session.Workshop = &setup, &works
	b = d.maker.Make(d.Input).Workbench
	if b.Fits || !strings.Contains(b.Lies[0], "reads mirrored") || !strings.Contains(strings.Join(b.Mind, " "), "keep a veil") || b.Layers[0].Exposure != "90 s" {
		t.Errorf("%+v", b)
	}
}

// Inkjet film is read in the UV or by a tablet, whatever stands in the field for silver film.
func TestFilmIsReadAsItsKindAllows(t *testing.T) {
	d := patches(t)
	d.View.Filled = view.Filled{{ID: "film.by", Text: "visual"}}
	if got := d.maker.Make(d.Input).Filled["film.by"]; got != "uv" {
		t.Errorf("inkjet film is read by %q", got)
	}
	d.View.Filled = view.Filled{{ID: "film.by", Text: "tablet"}}
	if got := d.maker.Make(d.Input).Filled["film.by"]; got != "tablet" {
		t.Errorf("inkjet film is read by %q", got)
	}
	setup := d.Session.Setup()
	setup.Film.Kind = film.Silver
	d.Session.Negatives = &setup
	d.View.Filled = view.Filled{{ID: "film.by", Text: "visual"}}
	if got := d.maker.Make(d.Input).Filled["film.by"]; got != "visual" {
		t.Errorf("silver film is read by %q", got)
	}
}
