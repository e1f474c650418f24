// Package numeric holds the numerical methods the rest of the library
// shares: interpolation through measured points and its inverse, sums that do
// not lose digits, linear systems, least squares within bounds, and fits of
// curves. It works on plain float64 slices and rests on gonum.
//
// What goes in: slices of numbers whose order and length the caller has
// checked. What comes out: numbers. It knows nothing of units and imports
// nothing else of this library.
//
// It is the only package of the library that panics: a slice of the wrong
// length or order is a fault of the calling package, not of the user's data.
// Each function says when. Whatever can be wrong with data a user measured is
// returned as an error or as a NaN that the function's comment announces.
//
// Read Curve first.
package numeric
