// Command threeply does on the command line what the page does in the browser,
// with the same packages: it registers separation plates, computes the proof of
// a three-layer pigment print, and lists what it knows of palettes.
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"threeply/tools/files"
)

// usageError is a command line that makes no sense; the program exits with 2.
type usageError string

func (e usageError) Error() string { return string(e) }

// subcommand is one command of the command line.
type subcommand struct {
	name, what string
	run        func(args []string, out, warn io.Writer) error // warn takes what was done otherwise than asked for
}

// quiet is a subcommand that has nothing to warn of.
func quiet(run func(args []string, out io.Writer) error) func(args []string, out, warn io.Writer) error {
	return func(args []string, out, _ io.Writer) error { return run(args, out) }
}

func subcommands() []subcommand {
	return []subcommand{
		{"register", "find where the red and blue plates lie against the green one", quiet(registerPlates)},
		{"plates", "tell what goes in: levels, greys, light, and whether the scans are fit", quiet(plates)},
		{"proof", "render the likely print, or the reference, of three plates as PNG or TIFF", proof},
		{"negatives", "write the three printing negatives, at size, with marks, wedges and label", printingNegatives},
		{"film", "write the film's own wedge, which tells its UV density beside a step tablet", quiet(filmWedge)},
		{"process", "write the sheet that the print is made by, for dry and for wet hands", quiet(processSheet)},
		{"palettes", "list the palettes: pigments, absorption, scattering, deepest grey", quiet(palettes)},
		{"patch", "compute the colour of three layers of given thickness", quiet(patch)},
		{"testsheet", "write a test sheet to measure your own tissues by: negatives, plan, table", testSheet},
		{"fit", "find your own tissues from the readings of a test sheet", quiet(fitReadings)},
		{"icc", "write the tissues of a print as an ICC output profile", quiet(profile)},
		{"batch", "work on many sets: register, judge, proofs, plates in register, one report", batchSets},
		{"review", "write the review of a set as one page to be printed: notes, decision, figures", reviewSheet},
		{"bag", "write scans, plates in register, sheets and session as an archive package", bagSet},
		{"pack", "put a session and its scans into one file", pack},
		{"version", "say which version this is", quiet(printVersion)},
		{"schema", "write the JSON Schema of a session, or of the commands", quiet(printSchema)},
	}
}

const intro = `Threeply shows what a three-layer pigment print from separation negatives
will look like before anyone coats a sheet of paper.

`

const examples = `
Examples:
  threeply register red.tif green.tif blue.tif
  threeply register -layout tall-bgr -json plate.jpg
  threeply register -o registered red.tif green.tif blue.tif
  threeply plates red.tif green.tif blue.tif
  threeply proof -palette earth -o proof.png red.tif green.tif blue.tif
  threeply proof -neutral "812,590;840,591;1210,70" red.tif green.tif blue.tif
  threeply proof -session saved.json -o proof.png red.tif green.tif blue.tif
  threeply pack -session saved.json -o set.zip red.tif green.tif blue.tif
  threeply proof -session set.zip -o proof.png
  threeply negatives -route clear-paper -width 240 -o film red.tif green.tif blue.tif
  threeply film -o wedge.tif
  threeply negatives -film wedge.txt -tablet tablet.txt -o film red.tif green.tif blue.tif
  threeply bag -session set.zip -o archive
  threeply batch -j 4 -o archive sets.csv
  threeply batch -shard 2/8 -o archive 'scans/{set}_{plate}.tif'
  threeply batch merge -o archive archive/report-*.csv
  threeply review -session set.zip -o review.html
  threeply process -session saved.json -o process.html
  threeply palettes -session saved.json
  threeply patch -palette chrome -y 1 -m 1 -c 1
  threeply patch -palette mine-palette.json -paper rag-spectrum.txt -light 3000K -m 1
  threeply icc -palette earth -finish matt -o earth.icc
  threeply testsheet -palette chrome -route clear-paper -o sheet
  threeply fit -palette chrome -o own-palette.json readings.txt

“threeply COMMAND -h” says more of each. Wrong use ends with exit code 2,
any other failure with 1. No command writes over a file that it reads, nor over
any other that is there already, unless -overwrite says so.
`

const overwriteHelp = "replace files that are there already under these names; never the ones that are read"

func usage(out io.Writer) {
	fmt.Fprint(out, intro, "Usage: threeply COMMAND [options] [FILE...]\n\nCommands:\n")
	for _, c := range subcommands() {
		fmt.Fprintf(out, "  %-9s  %s\n", c.name, c.what)
	}
	fmt.Fprint(out, examples)
}

func main() {
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-interrupted
		files.Abandon()
		os.Exit(130) // common practice: 128 and the signal's number, of the interrupt
	}()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run does what args say and returns the exit code.
func run(args []string, stdout, stderr io.Writer) int {
	if len(args) == 0 {
		usage(stderr)
		return 2
	}
	if args[0] == "help" && len(args) > 1 {
		args = []string{args[1], "-h"}
	}
	if args[0] == "-h" || args[0] == "-help" || args[0] == "--help" || args[0] == "help" {
		usage(stdout)
		return 0
	}
	for _, c := range subcommands() {
		if c.name != args[0] {
			continue
		}
		out := bufio.NewWriter(stdout)
		err := c.run(args[1:], out, stderr)
		err = errors.Join(err, out.Flush())
		var wrong usageError
		switch {
		case err == nil || errors.Is(err, flag.ErrHelp):
			return 0
		case errors.As(err, &wrong), isClash(err):
			fmt.Fprintf(stderr, "threeply %s: %v\nSee “threeply %s -h”.\n", c.name, err, c.name)
			return 2
		}
		fmt.Fprintf(stderr, "threeply %s: %v\n", c.name, err)
		return 1
	}
	fmt.Fprintf(stderr, "threeply: no command “%s”.\n\n", args[0])
	usage(stderr)
	return 2
}

// isClash tells an error of files that would be written over.
func isClash(err error) bool {
	_, clash := errors.AsType[*files.Clash](err)
	return clash
}

// parse reads a subcommand's options; help goes to out, a mistake comes back as
// a usageError.
func parse(f *flag.FlagSet, out io.Writer, args []string) error {
	f.SetOutput(io.Discard)
	err := f.Parse(args)
	if errors.Is(err, flag.ErrHelp) {
		f.SetOutput(out)
		f.Usage()
		return err
	}
	if err != nil {
		return usageError(plainly(err.Error()))
	}
	return nil
}

// plainly says of package flag's errors in plain words what they say in a programmer's.
func plainly(said string) string {
	if name, unknown := strings.CutPrefix(said, "flag provided but not defined: "); unknown {
		return "there is no option " + name
	}
	if said, number := strings.CutSuffix(said, ": parse error"); number {
		return said + ": it is no number"
	}
	return said
}

// noFiles refuses file names after the options, for a command that takes none there.
func noFiles(f *flag.FlagSet) error {
	if f.NArg() > 0 {
		return usageError(fmt.Sprintf("takes no files, but got “%s”", f.Arg(0)))
	}
	return nil
}

// listed are the ids of what there is, with commas between.
func listed[T any](all []T, id func(T) string) string {
	var ids []string
	for _, one := range all {
		ids = append(ids, id(one))
	}
	return strings.Join(ids, ", ")
}
