package main

import (
	"flag"
	"fmt"
	"io"
	"time"

	"threeply/proof/balance"
	"threeply/proof/icc"
	"threeply/proof/stack"
)

// profile writes a recipe as an ICC output profile.
func profile(args []string, out io.Writer) error {
	f := flag.NewFlagSet("icc", flag.ContinueOnError)
	palette := f.String("palette", "", "id of the palette, see “threeply palettes”, or a palette file")
	order := f.String("order", stack.DefaultOrder.String(), "the layers from the paper up, such as ymc")
	light := f.String("light", "D50", lightHelp())
	paper := f.String("paper", stack.Papers()[0].ID, "id of the paper: "+paperIDs(stack.Papers())+", or a file with its reflectance: lines of nm and 0 to 1")
	finish := f.String("finish", stack.Gloss.ID, "gloss, satin or matt")
	to := f.String("o", "", "the .icc file to write")
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply icc -palette ID|FILE -o FILE [options]\n\nWrites the recipe as an ICC output profile, with which any program that reads\nICC profiles can proof it. Its device colours C, M, Y are the thickness of each\nlayer, 100 % the whole coat, not dot areas. It is an estimate from approximate\nbuilt-in spectra, like every proof here.\n\n")
		f.PrintDefaults()
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if f.NArg() > 0 {
		return usageError(fmt.Sprintf("reads no files, but got “%s”; the profile's own name goes after -o", f.Arg(0)))
	}
	r, l, err := patchRecipe(*palette, *order, *light, *paper, *finish)
	if err != nil {
		return err
	}
	if *to == "" {
		return usageError("-o is missing: name the .icc file to write")
	}
	name := icc.Title(r, l)
	content := icc.Output(r, l, balance.DefaultLimit, name, time.Now(), nil)
	if err := writeFile(*to, text(string(content))); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: %s\n", *to, name)
	return err
}
