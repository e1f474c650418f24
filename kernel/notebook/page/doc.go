// Package page makes one HTML file of a notebook: for reading on a screen, for
// printing, for sending to somebody who has neither cobber nor a network.
//
// What goes in: a notebook.Notebook, run or not. What comes out: the bytes of a
// page, and warnings about what could not be put on it. Everything is in the
// one file: style, typeset mathematics with their fonts, pictures. The page
// holds no script and asks the browser to load nothing and run nothing, also
// where the output of a cell would.
//
// The package never runs a cell and never changes the notebook. The same
// notebook gives the same bytes.
//
// Read first: HTML.
package page
