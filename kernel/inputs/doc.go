// Package inputs gives a variable of a cell with //cobber:inputs the value that
// somebody wrote for it outside of the notebook. A session and a program made of
// a notebook both use it, so that both take and refuse the same.
//
// What goes in: a pointer to the variable, which holds the cell's own value, and a
// text. What comes out: the variable changed, or an error that says what the cell
// has there. It never makes of a variable what it was not: a quantity keeps its
// dimension, a whole number stays one.
//
// Read Assign first.
package inputs
