package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"
)

func TestSchema(t *testing.T) {
	for name, title := range map[string]string{"session": "Threeply session", "commands": "Threeply command"} {
		var out bytes.Buffer
		if err := printSchema([]string{name}, &out); err != nil {
			t.Fatal(err)
		}
		var head struct{ Title string }
		if err := json.Unmarshal(out.Bytes(), &head); err != nil || head.Title != title {
			t.Errorf("%s: %q, %v", name, head.Title, err)
		}
	}
	for _, args := range [][]string{nil, {"plates"}, {"session", "commands"}} {
		var wrong usageError
		if err := printSchema(args, &bytes.Buffer{}); !errors.As(err, &wrong) {
			t.Errorf("%q: %v", args, err)
		}
	}
}

// A wrong option is told in plain words.
func TestWrongOptions(t *testing.T) {
	for _, c := range []struct{ option, says string }{{"-wide", "there is no option -wide"}, {"-y=much", `invalid value "much" for flag -y: it is no number`}} {
		var wrong usageError
		if err := patch([]string{c.option}, &bytes.Buffer{}); !errors.As(err, &wrong) || err.Error() != c.says {
			t.Errorf("%s: %v, want %s", c.option, err, c.says)
		}
	}
}
