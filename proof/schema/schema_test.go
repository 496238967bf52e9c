package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"threeply/proof/command"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// compiled is a schema as a general-purpose library understands it.
func compiled(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func valid(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

// changed is a text with the first of some words in place of others.
func changed(t *testing.T, text []byte, from, to string) []byte {
	t.Helper()
	if !bytes.Contains(text, []byte(from)) {
		t.Fatalf("there is no %s to change", from)
	}
	return bytes.Replace(text, []byte(from), []byte(to), 1)
}

// What Read takes passes the schema, as a library understands it; what the schema
// refuses Read refuses too. A few things only Read can tell.
func TestSessionsAgainstTheSchema(t *testing.T) {
	s := compiled(t, Session)
	for name, state := range map[string]session.State{"new": session.New(), "opened": sessiontest.Opened(), "marked": sessiontest.Marked()} {
		text, err := session.Write(state)
		if err != nil {
			t.Fatal(err)
		}
		if err := valid(t, s, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	pretty, err := session.Write(sessiontest.Marked())
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := json.Compact(&b, pretty); err != nil {
		t.Fatal(err)
	}
	text := b.Bytes()
	for change, onlyRead := range map[[2]string]bool{
		{fmt.Sprintf(`"version":%d`, session.Version), `"version":2.5`}: false,
		{`"title":"Harbour at dusk",`, ``}:                              false,
		{`"title":`, `"colour":1,"title":`}:                             false,
		{`"layout":"separate"`, `"layout":"heap"`}:                      false,
		{`"width":1000`, `"width":-5`}:                                  false,
		{`"width":1000`, `"width":10.5`}:                                false,
		{`"width":1000`, `"width":"wide"`}:                              false,
		{`"gamma":0.8`, `"gamma":9`}:                                    false,
		{`"sha256":"a`, `"sha256":"z`}:                                  false,
		{`"part":0`, `"part":3`}:                                        false,
		{`"registered":"auto"`, `"registered":"perhaps"`}:               false,
		{`"confidence":0.9`, `"confidence":1.9`}:                        false,
		{`"x":100`, `"x":1e300`}:                                        false,
		{`"assign":[0,1,2]`, `"assign":[0,1]`}:                          false,
		{`"assign":[0,1,2]`, `"assign":[0,1,7]`}:                        false,
		{`"key":"green"`, `"key":"black"`}:                              false,
		{`"carried":false,`, ``}:                                        false,
		{`"print_width_mm":300`, `"print_width_mm":0`}:                  false,
		{`"tolerance_um":0`, `"tolerance_um":0.5`}:                      false,
		{`"order":"ymc"`, `"order":"yyy"`}:                              false,
		{`"load":1.5`, `"load":100`}:                                    false,
		{`"assign":[0,1,2]`, `"assign":[0,1,1]`}:                        true, // three different sources
		{`"palette":"own-1"`, `"palette":"none"`}:                       true, // ids that are known
		{`"x":100`, `"x":5000`}:                                         true, // marks on their scans
		{`"found_key":1`, `"found_key":-1`}:                             true, // what goes with what
		{`"matrix":[1,0,0,0,1,0]`, `"matrix":[0,0,0,0,0,0]`}:            true, // a register that folds nothing
		{`"x1":0.85`, `"x1":0.15`}:                                      true, // a line that is long enough
	} {
		bad := changed(t, text, change[0], change[1])
		if _, err := session.Read("a.json", bad); err == nil {
			t.Errorf("%s: Read takes it", change[1])
		}
		if err := valid(t, s, bad); (err == nil) != onlyRead {
			t.Errorf("%s: the schema says %v", change[1], err)
		}
	}
}

func TestCommandsAgainstTheSchema(t *testing.T) {
	s := compiled(t, Commands)
	text, err := os.ReadFile("../command/testdata/commands.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if err := valid(t, s, []byte(c)); err != nil {
			t.Errorf("%.80s: %v", c, err)
		}
	}
	for _, bad := range []string{
		`{"do":"fly"}`, `{"id":"earth"}`, `{"do":"palette"}`, `{"do":"palette","id":7}`, `{"do":"palette","id":"earth","printer":"cyan"}`,
		`{"do":"polarity","polarity":"positive"}`, `{"do":"gamma","source":3,"value":1}`, `{"do":"gamma","source":1,"value":9}`,
		`{"do":"hide","printer":"black","hidden":true}`, `{"do":"limit","value":"much"}`, `{"do":"order","order":"yyy"}`,
		`{"do":"place","source":1,"pose":{"dxPx":0,"dyPx":0,"turnDeg":500,"stretchPct":0,"mirrored":false}}`, `[]`, `7`,
	} {
		if _, _, err := command.Read([]byte(bad)); err == nil {
			t.Errorf("%s: Read takes it", bad)
		}
		if err := valid(t, s, []byte(bad)); err == nil {
			t.Errorf("%s passes the schema", bad)
		}
	}
}
