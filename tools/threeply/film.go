package main

import (
	"flag"
	"fmt"
	"io"

	"threeply/proof/label"
	"threeply/proof/negative"
	"threeply/proof/session"
	"threeply/proof/setter"
	"threeply/tools/files"
)

// filmWedge writes the film's own wedge.
func filmWedge(args []string, out io.Writer) error {
	f := flag.NewFlagSet("film", flag.ContinueOnError)
	to := f.String("o", "", "the .tif file to write")
	ppi := f.Float64("ppi", negative.Usual.PPI, "pixels an inch")
	side := f.String("side", negative.Usual.Side, "side of the film that lies on the tissue: emulsion or base")
	overwrite := f.Bool("overwrite", false, overwriteHelp)
	f.Usage = func() {
		fmt.Fprint(f.Output(), `Usage: threeply film [options] -o FILE.tif

Writes the film's own wedge: 21 patches from clear film to the densest, with their ink in %
beside them. How dense a film is in the UV shows without a UV densitometer:

  1. Print the wedge on the film as the negatives are printed: 100 %, no colour management.
  2. Expose it beside a calibrated step tablet on one tissue, and develop the print.
  3. Read both on the print with one instrument, as L* or as density.
  4. Write down two tables: of the tablet, each step's density and tone; of the wedge, each
     patch's ink and tone.
  5. threeply negatives -film WEDGE.txt -tablet TABLET.txt …

`)
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	if *to == "" {
		return usageError("-o is missing: name the .tif file to write")
	}
	setup := negative.Usual
	setup.PPI, setup.Side = *ppi, *side
	s := session.New()
	s.Negatives = &setup
	if err := s.Check(); err != nil {
		return usageError(err.Error())
	}
	job := &files.Job{Overwrite: *overwrite}
	if err := job.Plan([]string{*to}); err != nil {
		return err
	}
	wedge, err := setter.OwnWedge(setup, label.Now())
	if err != nil {
		return err
	}
	if err := job.Write(files.Out{Name: *to, Content: wedge.Write}); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "wrote %s\n", *to)
	return err
}
