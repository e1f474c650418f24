// Package stale knows which cells of a session show what would be something else
// by now, because a name that they read has changed since.
//
// What goes in: each cell that has run, as a checked program, and which names it
// bound. What comes out: the cells that are out of date, and why. A cell reads
// the names that its statements mention, and those that functions and methods
// it mentions read in turn. A name changes when a cell binds it, assigns to it or
// to a part of it, or takes its address; a name that is bound anew with an equal
// number, text or quantity has not changed. A cell that reads what an outdated
// cell bound is out of date too.
//
// What changes behind a pointer, in a list that a function sorts, or in a file,
// is not seen. The package never runs a cell.
//
// Read first: Trail.
package stale
