// Package check gives the trees of a cell their types.
//
// In go a parsed cell and the State of the session: the names earlier cells
// defined. Assemble puts the cell into the form of a Go file; Check runs
// go/types over it, with the session names it mentions in scope; out comes a
// Round: types, and errors in Go's words at the cell's own places, or, once
// package rewrite is content with the tree, a Program that go/ssa can build.
// Completion and inspection answer from the same facts.
//
// The package never runs anything, and only State.Commit changes a session: a
// cell that does not check leaves no trace. Read State, then Program.
//
// How a cell becomes a file: functions, methods, types and constants stay what
// they are. A variable that a statement defines becomes a variable of the
// package, with the expression that gives its type, so that functions see it
// whatever the order; the statement itself becomes an assignment in the entry
// function. Both share one tree: the initial values of the package are never
// run, the assignments are.
package check
