package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threeply/proof/label"
	"threeply/proof/session"
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
		if !bytes.Contains(b, []byte(label.Tool())) {
			t.Error("it does not say by which version it was made")
		}
		written = append(written, b)
	}
	const tables = 1000 // beyond date and name
	if bytes.Equal(written[0][tables:], written[1][tables:]) {
		t.Error("the order changes no colour of a scattering palette")
	}
}

// 100 % is the thickest layer allowed: -session brings it, -limit sets it, the
// profile's name says it, and its tables are those of that limit.
func TestIccOfASession(t *testing.T) {
	dir := t.TempDir()
	s := session.New()
	s.Palette, s.Finish, s.Limit, s.Order = "chrome", "matt", 0.6, "myc"
	saved, err := session.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	of := filepath.Join(dir, "saved.json")
	if err := os.WriteFile(of, append([]byte("\ufeff"), saved...), 0o644); err != nil {
		t.Fatal(err)
	}
	written := map[string][]byte{}
	for name, args := range map[string][]string{
		"session":  {"-session", of},
		"limit":    {"-palette", "chrome", "-finish", "matt", "-order", "myc", "-limit", "0.6"},
		"whole":    {"-palette", "chrome", "-finish", "matt", "-order", "myc", "-limit", "1"},
		"default":  {"-palette", "chrome"},
		"over it":  {"-session", of, "-limit", "1"},
		"a finish": {"-session", of, "-finish", "gloss"},
	} {
		file := filepath.Join(dir, "print.icc")
		if err := profile(append(args, "-overwrite", "-o", file), io.Discard); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		says := "100 % is 0.6 of the coat"
		switch name {
		case "whole", "over it":
			says = "100 % is the whole coat"
		case "default": // what a workshop lets the black take
			says = "100 % is 0.8 of the coat"
		}
		if !bytes.Contains(b, []byte(says)) {
			t.Errorf("%s: the name does not say “%s”", name, says)
		}
		written[name] = b
	}
	const dated = 36
	for _, same := range [][2]string{{"session", "limit"}, {"whole", "over it"}} {
		if !bytes.Equal(written[same[0]][dated:], written[same[1]][dated:]) {
			t.Errorf("%v differ", same)
		}
	}
	const tables = 1000 // beyond date and name
	for _, other := range []string{"whole", "a finish"} {
		if a, b := written["session"], written[other]; bytes.Equal(a[len(a)-tables:], b[len(b)-tables:]) && bytes.Equal(a[len(a)/2:], b[len(a)/2:]) {
			t.Errorf("%s has the tables of the session", other)
		}
	}
}

func TestIccWrongUse(t *testing.T) {
	file := filepath.Join(t.TempDir(), "print.icc")
	for _, args := range []string{
		"", "-palette lemon", "-o " + file, "-palette none -o " + file, "-palette lemon -order yy -o " + file,
		"-palette lemon -paper none -o " + file, "-palette lemon -finish wet -o " + file, "-palette lemon -light moon -o " + file,
		"-palette lemon -o " + file + " a.tif", "-nosuch", "-palette lemon -limit 9 -o " + file,
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

func TestHelpOfOneCommand(t *testing.T) {
	for _, asked := range [][]string{{"icc", "-h"}, {"help", "icc"}} {
		var out bytes.Buffer
		if code := run(asked, &out, &out); code != 0 || !strings.Contains(out.String(), "-palette") {
			t.Errorf("exit %d: %s", code, &out)
		}
	}
}
