package main

import (
	"bytes"
	"os"
	"testing"
)

// The shader's source says of its layout what package shader says.
func TestShaderIsUpToDate(t *testing.T) {
	old, err := os.ReadFile("../" + source)
	if err != nil {
		t.Fatal(err)
	}
	now, err := renew(old, "..")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(old, now) {
		t.Error("proof.kage does not say what package shader says: run `go generate ./wasm/page/shader`")
	}
	kept, err := os.ReadFile("../" + runs)
	if err != nil {
		t.Fatal(err)
	}
	if found, err := needed(now); err != nil || !bytes.Equal(kept, found) {
		t.Errorf("%s does not say what each picture needs of proof.kage: run `go generate ./wasm/page/shader` (%v)", runs, err)
	}
}

// A change of what is generated is seen.
func TestShaderOutOfDateIsSeen(t *testing.T) {
	old, err := os.ReadFile("../" + source)
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.Replace(old, []byte("const shellRow"), []byte("const shelfRow"), 1)
	now, err := renew(changed, "..")
	if err != nil || bytes.Equal(changed, now) || !bytes.Equal(old, now) {
		t.Errorf("%v: a changed constant stays", err)
	}
	if _, err := renew([]byte("package main\n"), ".."); err == nil {
		t.Error("a shader without the lines about what is generated is taken")
	}
}
