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
// file for each change: numbers beside quantities (number.go), quantities in
// functions of package math (mathematics.go), names that mean what they meant
// before the cell (early.go), literals of earlier structs (keyed.go). Others
// look for what Go does not see: what quantities do not allow (refuse.go), units
// in texts (unittext.go), and what is certain to fail for its dimensions
// (dimension.go, and beside it follow.go, parts.go, together.go). When nothing
// is wrong, uncertain inputs get names (name.go), and Options.Finish its say.
package rewrite
