// Package kernel is the Jupyter kernel of cobber, folder by folder. It holds no
// code of its own; this is the life of a cell.
//
//  1. wire reads an execute request from the shell socket, checks its
//     signature and makes a message of it.
//  2. server says "busy", broadcasts the text of the cell with its number, and
//     hands it to the session.
//  3. session/parse cuts the text into imports, declarations, statements and a
//     last expression, and reads quantity literals. Every position in the tree
//     is a position in the cell as its author sees it.
//  4. session/check gives everything a type, by Go's own checker, against the
//     names of the session and the packages of symbols. What is wrong, and what
//     the engine refuses, is said here: nothing has run and nothing has changed.
//  5. session/rewrite turns the checked cell into a plain Go package: session
//     names become variables of a package, numbers beside quantities become
//     quantities.
//     What the cell asks for by directives is put in last: session/working
//     has the values noted that a cell's working shows.
//  6. session/build makes functions in single-assignment form of it.
//  7. session/run executes them. Values lie in memory as compiled code has
//     them, so that compiled packages and cells share them.
//  8. session commits the names that the cell bound: all of them when it ran
//     to its end, those of the lines before the failing one when it did not.
//  9. display turns the value of the last expression into a bundle of media
//     types by the methods the value has.
//  10. wire sends the result, the reply and "idle".
//
// Beside that line: source and diag hold positions and diagnostics; symbols
// and docs hold what a cell may import, and what is said about it; inputs gives
// the variables of a cell values from outside; notebook runs a file of cells
// without Jupyter and writes it as a page; kernelspec tells Jupyter where the
// program is; cmd/cobber is the program; kerneltest holds the tests that need
// a whole kernel.
//
// What may import what is written in deps_test.go.
package kernel
