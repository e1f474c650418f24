// Package parse turns the text of a cell into syntax trees.
//
// In goes a cell: imports, declarations, statements and a last expression in
// any mix, or a pasted program, with quantity literals. Out comes a Cell: the
// same things apart, in text order, as go/ast trees whose positions are those
// of the cell's own text. Errors of syntax come back as diagnostics, several
// at a time. The package never looks up a name, a type or a unit: it knows
// nothing of sessions. Read Cell first, then split.go for how a cell falls
// into items.
package parse
