// Package control puts sliders, choices and switches on a page, and draws a
// result anew as they are moved.
//
// What goes in: the name of a setting, its bounds and start with units, and a
// function that draws something from the present settings. What comes out: the
// controls, the drawing below them, and the values as they stand, for later
// cells too. Where there is nobody to move them, as in a page or a program, the
// drawing of the start is shown with the settings beside it; a run from the
// command line may give other starts by name.
//
// It never moves a control by itself and never takes a value out of bounds.
//
// Read Slide first, then Show.
package control
