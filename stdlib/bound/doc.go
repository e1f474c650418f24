// Package bound tells a notebook what its names stand for, and lets it forget
// them.
//
// What goes in: names, as texts. What comes out: a List of what the cells have
// bound so far, which shows itself as a table. The answers come from the
// session that runs the cell, through Attach; in a program without a session
// nothing is bound, and nothing can be forgotten.
//
// It never changes a value, and what uses a forgotten name goes on using it.
// Read Names first.
package bound
