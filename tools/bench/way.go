package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
)

// way are the benchmarks of this folder that go the whole way of a set of plates, and sizes
// the megapixels of one plate.
var (
	way   = []string{"Open", "Register", "Proof"}
	sizes = []int{6, 24, 100}
)

const (
	alone    = "THREEPLY_ALONE" // is set where a benchmark of the way has its process to itself
	peakUnit = "MB-peak"
)

func sizeName(megapixels int) string { return fmt.Sprintf("%dMP", megapixels) }

// sizeOf is the size of a benchmark of the way, by its name.
func sizeOf(name string) (megapixels int, ok bool) {
	stage, size, _ := strings.Cut(name, "/")
	megapixels, err := strconv.Atoi(strings.TrimSuffix(size, "MP"))
	return megapixels, err == nil && slices.Contains(way, stage)
}

// wayOf runs the benchmarks of the way, each size in a process of its own, as WebAssembly where
// a starter is given. One that fails is said, and left out.
func wayOf(duration string, starter []string) (table, error) {
	folder, err := os.MkdirTemp("", "threeply")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	program := filepath.Join(folder, "way.test")
	build := exec.Command("go", "test", "-c", "-o", program, "./tools/bench")
	build.Stderr = os.Stderr
	if starter != nil {
		build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	}
	if err := build.Run(); err != nil {
		return nil, fmt.Errorf("the benchmarks of the way do not compile: %w", err)
	}
	all := table{}
	for _, stage := range way {
		for _, size := range sizes {
			line := append(slices.Clone(starter), program, "-test.run", "^$", "-test.benchtime", duration, "-test.bench", fmt.Sprintf("^Benchmark%s$/^%s$", stage, sizeName(size)))
			found, err := results(exec.Command("env", append([]string{alone + "=yes"}, line...)...))
			if err != nil {
				fmt.Printf("%s %s: %v\n", stage, sizeName(size), err)
			}
			for k, f := range found {
				all[key{"the way", k.name}] = f
			}
		}
	}
	return all, nil
}

// printWay writes one row a stage and size: time, time a megapixel and what that is to the
// smallest size's, and the peak of memory, natively and as WebAssembly.
func (native table) printWay(out io.Writer, wasm table) {
	writer := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(writer, "three plates of\tnative\tms/MP\tgrowth\tpeak\twasm\tms/MP\tgrowth\tpeak")
	for _, stage := range way {
		for _, size := range sizes {
			fmt.Fprintf(writer, "%s, %d MP", strings.ToLower(stage), size)
			for _, t := range []table{native, wasm} {
				f, least := t[key{"the way", stage + "/" + sizeName(size)}], t[key{"the way", stage + "/" + sizeName(sizes[0])}]
				each := f["ns/op"] / 1e6 / float64(size)
				growth := each / (least["ns/op"] / 1e6 / float64(sizes[0]))
				if f == nil {
					fmt.Fprint(writer, "\t–\t–\t–\t–")
					continue
				}
				fmt.Fprintf(writer, "\t%s\t%.1f\t%.2f\t%.0f MB", duration(f), each, growth, f[peakUnit])
			}
			fmt.Fprintln(writer)
		}
	}
	writer.Flush()
}
