package main

import (
	"flag"

	"threeply/proof/catalogue"
	"threeply/proof/command"
	"threeply/tools/files"
)

// addTable gives a command the option that names a table of sets.
func addTable(f *flag.FlagSet) *string {
	return f.String("table", "", "a CSV table that says of many sets which objects they are, a row for each set or plate: file or sha256, and number, title, creator, created, place, collection, description, rights, letter, condition; it takes the place of what the session says")
}

// identify gives a session what a table says of its set; "" for no table.
func identify(in *files.Job, history *command.History, table string) error {
	if table == "" {
		return nil
	}
	text, err := in.Read(table)
	if err != nil {
		return err
	}
	read, err := catalogue.Read(table, text)
	if err != nil {
		return err
	}
	all, err := read.Of(&history.State)
	if err != nil {
		return err
	}
	for _, c := range all {
		if err := history.Do(c, ""); err != nil {
			return err
		}
	}
	return nil
}
