package main

import (
	"strings"
	"testing"
)

const printed = `goos: linux
goarch: amd64
pkg: threeply/proof/cube
cpu: some processor
BenchmarkNew-2            	     100	   7012345 ns/op	  131072 B/op	       4 allocs/op
BenchmarkAt/tall-bgr-2    	 1000000	      61.5 ns/op	        16.2 MP/s	       0 B/op	       0 allocs/op
PASS
ok  	threeply/proof/cube	2.1s
`

func TestParse(t *testing.T) {
	got := parse(printed)
	if len(got) != 2 {
		t.Fatalf("%d rows, want 2: %v", len(got), got)
	}
	if ns := got[key{"threeply/proof/cube", "New"}]["ns/op"]; ns != 7012345 {
		t.Errorf("New takes %v ns", ns)
	}
	if rate := got[key{"threeply/proof/cube", "At/tall-bgr"}]["MP/s"]; rate != 16.2 {
		t.Errorf("At runs at %v MP/s", rate)
	}
}

func TestPrint(t *testing.T) {
	native := parse(printed)
	wasm := table{{"threeply/proof/cube", "New"}: {"ns/op": 14024690}}
	var out strings.Builder
	native.print(&out, wasm)
	for _, want := range []string{"7.01 ms", "14 ms", "2.0", "131 kB", "16.2 MP/s"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out.String())
		}
	}
}
