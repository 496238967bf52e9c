package main

import (
	"flag"
	"fmt"
	"io"

	"threeply/proof/schema"
)

// printSchema writes a published JSON Schema.
func printSchema(args []string, out io.Writer) error {
	f := flag.NewFlagSet("schema", flag.ContinueOnError)
	f.Usage = func() {
		fmt.Fprint(f.Output(), "Usage: threeply schema session|commands\n\nWrites the JSON Schema of a saved session, or of the commands that change one.\n")
	}
	if err := parse(f, out, args); err != nil {
		return err
	}
	text, ok := map[string][]byte{"session": schema.Session, "commands": schema.Commands}[f.Arg(0)]
	if !ok || f.NArg() != 1 {
		return usageError("name one schema: session or commands")
	}
	_, err := out.Write(text)
	return err
}
