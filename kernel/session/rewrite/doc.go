// Package rewrite turns a parsed cell into plain Go that go/types accepts and
// go/ssa can build.
//
// In go the session's State and a parsed cell; out comes a check.Program, or a
// diag.List and nothing changed. The package drives the rounds of checking: it
// looks at the types of one round, changes the tree where Go's rules and the
// rules of a notebook differ, and asks for another, until nothing is left to
// change. Most cells need one round.
//
// It never changes what a tree of plain Go means. Read Cell first; then one
// file for each change: numbers beside quantities (number.go), names that
// mean what they meant before the cell (early.go), literals of earlier structs
// (keyed.go). Two files look for what Go does not see: what quantities do not
// allow (refuse.go), and sums of unlike dimensions (dimension.go).
package rewrite
