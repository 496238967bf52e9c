package model

import (
	"encoding/json"
	"reflect"
)

// part is one part of the model: what make gives for the value that it stands on, and
// that as JSON.
type part[On, Made any] struct {
	on    On
	made  Made
	text  json.RawMessage
	err   error // why there is no text
	times int   // how often it was made
}

// of makes the part for on, where it does not stand for that already.
func (p *part[On, Made]) of(on On, make func(On) Made) Made {
	if p.times == 0 || !reflect.DeepEqual(p.on, on) {
		p.on, p.made = on, make(on)
		p.times++
		p.text, p.err = json.Marshal(p.made)
	}
	return p.made
}

func (p *part[On, Made]) json() (json.RawMessage, error) { return p.text, p.err }
