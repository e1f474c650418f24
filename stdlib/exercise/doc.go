// Package exercise sets questions whose answer is a quantity, with other numbers
// for each student, and marks what students answer.
//
// What goes in: a Task, which is a text with places for values, how each value
// varies, and a function that works the answer out; then a student's answer, as
// a quantity or as text. What comes out: an Exercise with its question and hints;
// a Mark that tells a wrong unit from a wrong value and from a wrong method, such
// as percent taken for a share, wet mass taken for dry, or yield given for
// recovery; and for the teacher a class sheet with every answer.
//
// The same task and the same seed give the same numbers on every machine. A
// question never shows its answer, and a mark never tells it: hints are given in
// order, and the rest is the student's. The package keeps no record of who
// answered what, and hides nothing from somebody who reads the teacher's code.
//
// Read Task first, then Exercise and Mark.
package exercise
