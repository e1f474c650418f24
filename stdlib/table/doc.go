// Package table turns values into tables people can read and reads tables people
// have written.
//
// What goes in: columns of quantities, numbers or texts; slices of structs and
// maps; CSV files and Excel workbooks whose headers carry the unit, as in
// "mass (g)". What comes out: a Table, which shows itself as HTML (inline styles
// only), Markdown, LaTeX and text, with units in the headers, decimal points below
// one another and sensible digits, and which writes back to such files.
//
// How a table is shown is settled by its methods: totals and weighted means,
// groups, cells that stand out by a rule, decimals, rows shown. Uncertain values
// are shown with their standard deviations.
//
// It never changes a value and never guesses: a cell that is no number in a
// column with a unit is an error that names the row and the column; an empty cell
// or n/a is a missing value, which stays missing. Digits are cut only where a value
// is shown.
//
// Read Table first, then ReadFile and Of.
package table
