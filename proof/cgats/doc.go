// Package cgats reads measurements of patches as text: CGATS.17 and ISO 28178 files, and
// plain tables that begin with a row of the same field names.
//
// It is strict in what is wrong and tolerant in how names are spelled. Every error
// begins with the line and says the reason and what to do; whoever opened the file adds
// its name. Keywords and field names follow CGATS.17-2009 and ISO 28178:2009 (from
// memory); those without the standards' own name are spellings in common use.
package cgats
