// Package batch is what the work on many sets needs beside the work on each: the manifest
// that lists them, shards of it, the record of a finished set, and the report and the
// contact sheet of all.
//
// A batch has a folder, and in it one for each set. A set is made in a folder whose name
// begins with Unfinished and is given its own name once all of it is there, its record
// included: what has that name is whole, whenever the work was ended.
package batch
