// Package fields reads quantities out of the exported fields of a unit
// operation, and says of each what is wrong with it.
//
// What goes in: a quantity, the name of its field, the unit it is wanted in and
// the range it must lie in. What comes out: plain numbers, and the first
// complaint. A field that holds nothing is missing or stands for a default, as
// its reader says; nothing here ever changes a number.
//
// Read Reader first.
package fields
