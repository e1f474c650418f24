// Package compare says where two runs of one notebook show different things.
//
// What goes in: the notebook as it was saved, and the same notebook run anew.
// What comes out: a list of differences, each with the cell, what was saved and
// what is shown now. Numbers within text, tables and drawings are compared as
// numbers, within a tolerance; bitmaps are compared pixel by pixel, whatever
// bytes hold them.
//
// The package never runs a cell, and never says which of two values is right.
//
// Read first: Notebooks.
package compare
