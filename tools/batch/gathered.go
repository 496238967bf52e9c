package batch

import (
	"bufio"
	"cmp"
	"encoding/json"
	"errors"
	"io"
	"iter"
	"os"
	"slices"
)

// inMemory is how many figures are held in memory; what is more lies in files.
const inMemory = 1000

// Gathered are the figures of a batch, which it gives in the order of Urgent. Its zero value
// has none. Close removes its files.
type Gathered struct {
	Sets, Failed, Mind int // how many: all, those that failed, those to look at, failed ones included

	last []Figures  // not in a file yet
	runs []*os.File // figures as JSON, those of each file in order
	most int        // figures in memory; 0 stands for inMemory
}

// Add adds the figures of a set. The error is of the disc.
func (g *Gathered) Add(f Figures) error {
	g.Sets++
	if f.Why == Failed {
		g.Failed++
	}
	if f.Why < Fine {
		g.Mind++
	}
	g.last = append(g.last, f)
	if len(g.last) < cmp.Or(g.most, inMemory) {
		return nil
	}
	file, err := os.CreateTemp("", "threeply-batch-*")
	if err != nil {
		return err
	}
	g.runs = append(g.runs, file)
	out := bufio.NewWriter(file)
	to := json.NewEncoder(out)
	slices.SortFunc(g.last, Urgent)
	for _, f := range g.last {
		if err := to.Encode(f); err != nil {
			return err
		}
	}
	g.last = g.last[:0]
	return out.Flush()
}

// All gives all figures in order. An error ends them.
func (g *Gathered) All() iter.Seq2[Figures, error] {
	return func(yield func(Figures, error) bool) {
		slices.SortFunc(g.last, Urgent)
		rest := g.last
		var heads []Figures // the next of each file that has one
		var from []*json.Decoder
		take := func(i int) error { // the next of a file in its place
			heads[i] = Figures{}
			err := from[i].Decode(&heads[i])
			if errors.Is(err, io.EOF) {
				heads, from = slices.Delete(heads, i, i+1), slices.Delete(from, i, i+1)
				return nil
			}
			return err
		}
		for _, file := range g.runs {
			_, err := file.Seek(0, io.SeekStart)
			heads, from = append(heads, Figures{}), append(from, json.NewDecoder(bufio.NewReader(file)))
			if err = errors.Join(err, take(len(heads)-1)); err != nil {
				yield(Figures{}, err)
				return
			}
		}
		for len(rest) > 0 || len(heads) > 0 {
			first := -1 // the file that has the next; -1 where memory has it
			for i := range heads {
				if first < 0 && (len(rest) == 0 || Urgent(heads[i], rest[0]) < 0) || first >= 0 && Urgent(heads[i], heads[first]) < 0 {
					first = i
				}
			}
			if first < 0 {
				if !yield(rest[0], nil) {
					return
				}
				rest = rest[1:]
				continue
			}
			if !yield(heads[first], nil) {
				return
			}
			if err := take(first); err != nil {
				yield(Figures{}, err)
				return
			}
		}
	}
}

// Close removes the files.
func (g *Gathered) Close() {
	for _, file := range g.runs {
		file.Close()
		os.Remove(file.Name())
	}
}
