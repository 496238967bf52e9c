// Package schema has the published JSON Schemas of what the tool reads: of a saved
// session, and of the commands that change one. They are made of the Go types and of
// the ranges in package session; see TestSchemasAreCurrent.
//
// A schema cannot say all that session.Read and a command hold a text to: that marks
// lie on their scans, that ids are known, that a register folds nothing. What passes
// the schema may still be refused by them, never the other way round.
package schema

import _ "embed"

// Session is the schema of a session of the present version.
//
//go:embed session.schema.json
var Session []byte

// Commands is the schema of one command.
//
//go:embed commands.schema.json
var Commands []byte
