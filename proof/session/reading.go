package session

import (
	"encoding/json"
	"errors"
	"fmt"
)

// UnmarshalJSON reads a state over what s holds. A value of the wrong kind is named
// by its place in the file, not in words of the decoder.
func (s *State) UnmarshalJSON(text []byte) error {
	type plain State
	err := json.Unmarshal(text, (*plain)(s))
	kind, ok := errors.AsType[*json.UnmarshalTypeError](err)
	switch {
	case !ok:
		return err
	case kind.Field == "":
		return fmt.Errorf("its text is of the kind “%s”, and settings are an object", kind.Value)
	}
	return fmt.Errorf("“%s” cannot be of the kind “%s”", kind.Field, kind.Value)
}
