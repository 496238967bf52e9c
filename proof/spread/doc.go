// Package spread says how sure a proof is: how far its colours move when what
// is not known of the tissues moves within stated limits.
package spread
