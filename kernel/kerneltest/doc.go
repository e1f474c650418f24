// Package kerneltest holds what tests of a whole kernel need: a front end in
// memory, the shapes of all messages, and the tests with real clients of
// Jupyter, which are written in Python and use the C library of ZeroMQ.
//
// It is no part of the program: nothing but tests imports it.
//
// The type to read first is FrontEnd.
package kerneltest
