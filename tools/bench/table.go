package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
)

// key names one benchmark: its package and its name without the processor count.
type key struct{ pkg, name string }

// figures are a benchmark's numbers by unit: "ns/op", "B/op", "MP/s", ...
type figures map[string]float64

// table holds the figures of many benchmarks.
type table map[key]figures

// parse reads what go test -bench prints.
func parse(words string) table {
	found := table{}
	pkg := ""
	for line := range strings.Lines(words) {
		fields := strings.Fields(line)
		if len(fields) == 2 && fields[0] == "pkg:" {
			pkg = fields[1]
		}
		if len(fields) < 4 || !strings.HasPrefix(fields[0], "Benchmark") {
			continue
		}
		one := figures{}
		for i := 2; i+1 < len(fields); i += 2 {
			if value, err := strconv.ParseFloat(fields[i], 64); err == nil {
				one[fields[i+1]] = value
			}
		}
		found[key{pkg, withoutCount(strings.TrimPrefix(fields[0], "Benchmark"))}] = one
	}
	return found
}

// withoutCount drops the "-2" that go test appends on a machine with two processors.
func withoutCount(name string) string {
	cut := strings.LastIndexByte(name, '-')
	if cut < 0 {
		return name
	}
	if _, err := strconv.Atoi(name[cut+1:]); err != nil {
		return name
	}
	return name[:cut]
}

// print writes one row a benchmark: native and WebAssembly time, their ratio,
// memory, and whatever the benchmark itself reports, WebAssembly's after a slash.
func (native table) print(out io.Writer, wasm table) {
	keys := map[key]bool{}
	for k := range native {
		keys[k] = true
	}
	for k := range wasm {
		keys[k] = true
	}
	order := slices.SortedFunc(maps.Keys(keys), func(a, b key) int {
		return strings.Compare(a.pkg+" "+a.name, b.pkg+" "+b.name)
	})
	writer := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(writer, "package\tbenchmark\tnative\twasm\tratio\tmemory\talso")
	for _, k := range order {
		n, w := native[k], wasm[k]
		fmt.Fprintf(writer, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", strings.TrimPrefix(k.pkg, "threeply/"), k.name,
			duration(n), duration(w), ratio(n, w), memory(n), also(n, w))
	}
	writer.Flush()
}

func duration(f figures) string {
	ns, has := f["ns/op"]
	switch {
	case !has:
		return "–"
	case ns < 1e3:
		return fmt.Sprintf("%.3g ns", ns)
	case ns < 1e6:
		return fmt.Sprintf("%.3g µs", ns/1e3)
	case ns < 1e9:
		return fmt.Sprintf("%.3g ms", ns/1e6)
	}
	return fmt.Sprintf("%.3g s", ns/1e9)
}

func ratio(native, wasm figures) string {
	n, w := native["ns/op"], wasm["ns/op"]
	if n == 0 || w == 0 {
		return ""
	}
	return fmt.Sprintf("%.1f", w/n)
}

func memory(f figures) string {
	bytes, has := f["B/op"]
	switch {
	case !has:
		return "–"
	case bytes < 1e3:
		return fmt.Sprintf("%.0f B", bytes)
	case bytes < 1e6:
		return fmt.Sprintf("%.3g kB", bytes/1e3)
	}
	return fmt.Sprintf("%.3g MB", bytes/1e6)
}

func also(native, wasm figures) string {
	units := map[string]bool{}
	for _, f := range []figures{native, wasm} {
		for unit := range f {
			units[unit] = unit != "ns/op" && unit != "B/op" && unit != "allocs/op"
		}
	}
	var parts []string
	for _, unit := range slices.Sorted(maps.Keys(units)) {
		if !units[unit] {
			continue
		}
		values := []string{}
		for _, f := range []figures{native, wasm} {
			if value, has := f[unit]; has {
				values = append(values, strconv.FormatFloat(value, 'g', 4, 64))
			}
		}
		parts = append(parts, strings.Join(values, " / ")+" "+unit)
	}
	return strings.Join(parts, ", ")
}
