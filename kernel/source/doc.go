// Package source holds the text of cells and says where in it something is.
//
// In go cells as the user typed them; out come positions as the user counts
// them: the cell's name, the line, and the column in characters. The package
// never parses and never changes a text. Read Cell and Set first.
package source
