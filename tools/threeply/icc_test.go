package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The file is a whole output profile (ICC.1:2001-04, 6.1) under the recipe's
// name, and another order of the layers gives another one.
func TestIccWritesProfile(t *testing.T) {
	var written [][]byte
	for _, order := range []string{"ymc", "cmy"} {
		file := filepath.Join(t.TempDir(), "print.icc")
		var out bytes.Buffer
		if err := profile([]string{"-palette", "chrome", "-order", order, "-paper", "sized", "-finish", "matt", "-o", file}, &out); err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if int(binary.BigEndian.Uint32(b)) != len(b) || string(b[12:24]) != "prtrCMY Lab " || string(b[36:40]) != "acsp" {
			t.Errorf("%d bytes begin % x", len(b), b[:40])
		}
		if !strings.Contains(out.String(), file) || !bytes.Contains(b, []byte(", "+order+", ")) {
			t.Errorf("the order %s is not in the name: %s", order, &out)
		}
		written = append(written, b)
	}
	const tables = 1000 // beyond date and name
	if bytes.Equal(written[0][tables:], written[1][tables:]) {
		t.Error("the order changes no colour of a scattering palette")
	}
}

func TestIccWrongUse(t *testing.T) {
	file := filepath.Join(t.TempDir(), "print.icc")
	for _, args := range []string{
		"", "-palette lemon", "-o " + file, "-palette none -o " + file, "-palette lemon -order yy -o " + file,
		"-palette lemon -paper none -o " + file, "-palette lemon -finish wet -o " + file, "-palette lemon -light moon -o " + file,
		"-palette lemon -o " + file + " a.tif", "-nosuch",
	} {
		var wrong usageError
		if err := profile(strings.Fields(args), &bytes.Buffer{}); !errors.As(err, &wrong) || wrong == "" {
			t.Errorf("%q: %v", args, err)
		}
		var says bytes.Buffer
		if code := run(append([]string{"icc"}, strings.Fields(args)...), &bytes.Buffer{}, &says); code != 2 || says.Len() == 0 {
			t.Errorf("%q ends with %d: %s", args, code, &says)
		}
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("wrong use has written a file")
	}
}

// A folder that is not there is no wrong use, but it is said.
func TestIccNowhereToWrite(t *testing.T) {
	file := filepath.Join(t.TempDir(), "missing", "print.icc")
	var says bytes.Buffer
	if code := run([]string{"icc", "-palette", "lemon", "-o", file}, &bytes.Buffer{}, &says); code != 1 || !strings.Contains(says.String(), file) {
		t.Errorf("exit %d: %s", code, &says)
	}
}

func TestIccHelp(t *testing.T) {
	var out bytes.Buffer
	if code := run([]string{"icc", "-h"}, &out, &out); code != 0 || !strings.Contains(out.String(), "-palette") {
		t.Errorf("exit %d: %s", code, &out)
	}
}
