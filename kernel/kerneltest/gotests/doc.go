// Package gotests holds the engine to the test folder of the Go distribution.
// It has tests only.
//
// What goes in: the programs of that folder that only have to run, each pasted
// into a session as one cell, in a process of its own. What comes out: whether
// it ended as the distribution says. misses.txt lists those that do not, with
// a reason for each group; a miss that is not listed fails, and so does a
// listed program that ends well, so that the list stays true.
//
// It never changes a program, and never takes a refusal for a success.
package gotests
