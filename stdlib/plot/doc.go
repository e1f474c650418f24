// Package plot draws lines and points of quantities against one another.
//
// What goes in: marks (lines, points, bands, bars, notes) of quantities and what
// the axes are to show. Axes are linear, logarithmic, of probability or of
// Rosin and Rammler; uncertain quantities bring their intervals. What comes out:
// a Figure, which is a picture (methods SVG, PNG and PDF) with axes that carry
// the name and unit of what they show. A notebook shows a Figure by itself.
//
// A picture has its own white ground, so that it can be read on dark pages. The
// same data give the same bytes. Series differ by colour, by marker and by
// dash, so that nothing hangs on colour alone; the colours stay apart for
// colour-blind readers.
//
// A figure may stand beside others (Panels), be of any size (Figure.Size) and be
// saved to a file (Figure.Save, Figure.SaveFrame). Very many values stay quick:
// a long line is drawn by the values that show, a cloud of points as an image.
// What stands on no axes is drawn freely, in the same look (Sketch).
//
// It never draws what it cannot draw truly: series of unlike dimensions on one
// axis, or a value of 0 on a logarithmic axis, are errors. A value that is not
// a number is left out and interrupts the line. It knows no trade charts; it
// draws what it is given.
//
// Read Draw first.
package plot
