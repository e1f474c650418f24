// Package diag holds what is said about a cell that cannot run: what is
// wrong, where, and what to do.
//
// In go codes, texts and positions; out comes a List, which is an error and
// prints itself for a person. The package never finds faults itself and knows
// nothing of Go's syntax. Read Diagnostic first.
package diag
