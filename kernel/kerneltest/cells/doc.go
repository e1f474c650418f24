// Package cells holds the executor of cells to the Go compiler. It has tests
// only.
//
// What goes in: the stories of testdata/cells, each of one or more cells, with
// the equivalent Go program where that cannot be made from the cells. What
// comes out: for each story, what the compiled program prints, written into
// the story by the compiler and never by hand, and whether a session that runs
// the cells prints the same. The type to read first is story.
//
// It never takes the engine's word for anything: a story that is refused must
// say so in its file, and one that prints something else than its program is a
// failure.
package cells
