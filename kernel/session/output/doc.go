// Package output catches what a process prints while a cell runs.
//
// In goes text that cells and compiled packages write to os.Stdout and os.Stderr; out it goes to the
// receiver of the cell that runs or ran last. What a goroutine of an earlier cell prints goes to its
// own cell where that is known: through Cell.Own. It never changes the text, but keeps characters
// whole, and of a cell that prints without end it keeps the beginning and the end, and says how much
// it left out between.
package output
