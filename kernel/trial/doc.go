// Package trial starts a kernel as Jupyter does and tries it: a start, a sum, an
// interrupt, an end.
//
// In goes the command line of a kernel specification. Out come the steps, each
// with the time it took or what went wrong. It never installs anything, and
// leaves no process behind.
//
// The function to read first is Run.
package trial
