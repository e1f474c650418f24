// Package session is a notebook's state, and the road of a cell through its stages: parse, check and
// rewrite, build, run.
//
// In goes the text of a cell; out come its values, what it printed and showed, or an error that says
// what, where and what to do. A cell that does not check changes nothing; one that fails while it runs
// keeps what the statements before bound. The package knows nothing of Jupyter. Read Session first.
package session
