package main

import (
	"flag"
	"fmt"
	"io"
	"runtime"

	"threeply/proof/label"
)

// printVersion says which version of the tool this is, as every file that it writes does.
func printVersion(args []string, out io.Writer) error {
	f := flag.NewFlagSet("version", flag.ContinueOnError)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply version\n\nSays the version that every file carries which this program writes, and by which\nGo and for which system it was built.\n")
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	if err := noFiles(f); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "%s\n%s %s/%s\n", label.Tool(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
