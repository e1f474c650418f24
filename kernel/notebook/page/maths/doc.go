// Package maths typesets TeX mathematics for a page that must need no network.
//
// What goes in: the TeX of one formula. What comes out: HTML that a browser
// draws without a script, with MathML inside it for those who listen to the
// page, and the style sheet that this HTML needs, fonts included.
//
// The typesetting is KaTeX (see katex/SOURCE), run here by a script engine
// written in Go while the page is made. The package never sends a script to the
// reader and never loads a file at run time. TeX that KaTeX does not know is an
// error with KaTeX's own words.
//
// Read first: Typesetter.
package maths
