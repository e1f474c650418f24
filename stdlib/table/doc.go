// Package table turns values into tables people can read and reads tables people
// have written.
//
// What goes in: columns of quantities, numbers or texts; slices of structs and
// maps; CSV files whose headers carry the unit, as in "mass (g)". What comes
// out: a Table, which shows itself as HTML (inline styles only), Markdown,
// LaTeX and text, with units in the headers, decimal points below one another
// and sensible digits.
//
// It never changes a value and never guesses: a cell that is no number in a
// column with a unit is an error that names the row and the column. Digits are
// cut only where a value is shown.
//
// Read Table first, then ReadCSV and Of.
package table
