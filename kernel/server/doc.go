// Package server answers the requests of Jupyter front ends, one file for each
// kind of request.
//
// It keeps the order that front ends rely on: busy, the cell's text, its
// output, idle, each with the header of the request it belongs to. Cells run
// one after the other. All else is answered at once, while a cell runs too: so
// completion does not wait for a long calculation, and an interrupt finds it.
//
// It never parses a cell and never holds its names: that is the session's
// part, reached through the interface Session. It knows the sockets only as a
// Transport, so that tests need none.
//
// Requests go in, replies and broadcasts come out. Read Server first, then
// execute.go.
package server
