// Package working shows how a cell got its results: each assignment as symbol,
// formula, numbers and result, from the checked tree and from the values that
// the cell had while it ran.
//
// In go a checked cell that begins with //cobber:working, and, while it runs,
// the values that it notes; out comes a [Shown], which has LaTeX and text.
// The package never computes a value: what was not noted is not shown. A cell
// notes the values that a statement reads before it, and those that it has
// assigned after it; of a loop the first and the last passes are kept.
//
// Read Recorder first: plan.go puts the notes into the cell, formula.go makes
// formulas of expressions, record.go keeps values, tell.go puts both together,
// and latex.go and text.go write it down.
package working
