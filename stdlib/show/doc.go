// Package show is what a cell may do to the page besides its last value: show
// several values, keep one place up to date while a loop runs, tell how far long
// work has come, clear what stands below the cell, print a long text aside, and
// ask the user for a line.
//
// What goes in: any values. A value says how it looks by plain methods it may
// have: HTML() string, Markdown() string, LaTeX() string, SVG() []byte or
// string, PNG() []byte, String() string. What comes out: events, handed to
// whoever listens (a notebook kernel does), or else plain text on the
// program's output, so that a notebook turned into a program still runs.
//
// It never formats for a front end and never talks to one. Read Value first.
package show
