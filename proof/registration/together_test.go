package registration

import (
	"context"
	"encoding/json"
	"reflect"
	"sync/atomic"
	"testing"

	"threeply/proof/register"
)

// A plate that another program registers, and tells as text, lies where it would have been
// found here, to the last digit. Where that fails, it is registered here.
func TestTogether(t *testing.T) {
	planes := cut(shown())
	s := state(planes)
	want, err := Register(context.Background(), &s, planes, nil)
	if err != nil {
		t.Fatal(err)
	}
	const away = 2
	needed := planes
	needed[3-away-s.KeySource()] = nil // the third plate
	one, err := One(context.Background(), &s, needed, away, func(float64) {})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(one)
	if err != nil {
		t.Fatal(err)
	}
	var asked atomic.Int32
	got, err := Together(context.Background(), &s, planes, func(i int) (p register.Plate, ok bool) {
		asked.Add(1)
		return p, i == away && json.Unmarshal(text, &p) == nil
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if asked.Load() != 2 || !reflect.DeepEqual(got, want) {
		t.Errorf("asked %d times; found\n%+v, want\n%+v", asked.Load(), got.Found, want.Found)
	}
	if want.Found[away].Confidence < register.FoundFrom {
		t.Errorf("the plate is not found at all: %+v", want.Found[away])
	}
}
