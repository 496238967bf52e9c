package model

import (
	"threeply/proof/film"
	"threeply/wasm/page/view"
)

// Forms are the fields of the page that change neither session nor pictures.
type Forms struct {
	Filled map[string]string `json:"filled"` // what stands in each, by name
}

type formsOn struct {
	filled view.Filled
	inkjet bool // the negatives are printed on such film
}

func onForms(in Input) formsOn {
	return formsOn{in.View.Filled, in.Session.Setup().Film.Kind == film.Inkjet}
}

// Inkjet film is read in the UV alone: dyes that look dense may let it through.
func makeForms(on formsOn) Forms {
	filled := on.filled.Whole()
	if on.inkjet && filled["film.by"] != "tablet" {
		filled["film.by"] = "uv"
	}
	return Forms{filled}
}
