package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

var place = regexp.MustCompile(`\{\d\}`)

// TestCatalogues holds the words of other languages to what web/ui/language.js rests on:
// one entry a line, in order, each once; the same places on both sides; and around what
// varies something that a text is known by.
func TestCatalogues(t *testing.T) {
	names, err := filepath.Glob("../../web/words/*.json")
	if err != nil || len(names) == 0 {
		t.Fatalf("web/words holds %q: %v", names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		read := json.NewDecoder(bytes.NewReader(text))
		if _, err := read.Token(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var keys []string
		forms := map[string]string{}
		for read.More() {
			var entry [2]string
			for i := range entry {
				token, err := read.Token()
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				entry[i], _ = token.(string)
			}
			english, said := entry[0], entry[1]
			if strings.TrimSpace(said) == "" || strings.TrimSpace(english) != english || strings.TrimSpace(said) != said {
				t.Errorf("%s: %q is %q: an entry is neither empty nor begins or ends with a space", name, english, said)
			}
			places := func(text string) []string { return slices.Sorted(slices.Values(place.FindAllString(text, -1))) }
			if a, b := places(english), places(said); !slices.Equal(a, b) {
				t.Errorf("%s: %q has the places %q, %q has %q", name, english, a, said, b)
			}
			if place.MatchString(english) && !strings.ContainsFunc(place.ReplaceAllString(english, ""), unicode.IsLetter) {
				t.Errorf("%s: %q would be found in any text", name, english)
			}
			form := place.ReplaceAllString(english, "{}")
			if other, twice := forms[form]; twice {
				t.Errorf("%s: %q and %q are found in the same texts", name, other, english)
			}
			forms[form] = english
			keys = append(keys, english)
		}
		if !slices.IsSorted(keys) {
			for i := range keys[1:] {
				if keys[i] > keys[i+1] {
					t.Errorf("%s: %q stands before %q", name, keys[i], keys[i+1])
				}
			}
		}
		if lines := bytes.Count(text, []byte("\n")); lines != len(keys)+2 {
			t.Errorf("%s: %d entries on %d lines: each has a line of its own", name, len(keys), lines)
		}
	}
}
