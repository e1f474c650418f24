// Package partition is about how sharply a separation by size or density cuts:
// partition curves, the figures drawn from them, models of them, what they
// predict of another feed, what sink-float tests allow at best, and the
// efficiency of screens.
//
// What goes in: shares of each size or density class that went to the coarse or
// heavy product, measured or from the two products; fractions of a sink-float
// test with their assays; shares of fines around a screen. What comes out: a
// Curve with its cut, probable error, imperfection and sharpness; a Model, given
// or fitted, that splits a size distribution; a Washability; a Screening.
//
// A share is always that of the coarse or heavy product: underflow, oversize,
// sinks. The package never smooths a measured curve and never extrapolates one:
// a curve that passes 50 % twice has no d50, and the error says where it passes.
// It never takes the least share of a curve for its bypass unless told to.
//
// Read Curve first, then Model.
package partition
