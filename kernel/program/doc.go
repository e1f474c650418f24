// Package program writes the cells of a notebook as one Go program that prints
// what the cells print and show, for runs that are too long or too many for a
// notebook.
//
// What goes in: the cells, in their order. What comes out: the texts of a main
// package, which imports the library and packages display and inputs. Each cell becomes a
// function; the names of the session become variables of the package; operators
// on quantities become the methods that they stand for. What a cell with
// //cobber:inputs assigns becomes a flag.
//
// The program is plain Go: it means what the Go compiler makes of it, which is
// what the session makes of the cells. What a program cannot say, such as a
// function that a later cell declares anew, is refused with the cell and what to
// do. The package never runs a cell and never calls the compiler.
//
// Read first: Write.
package program
