// Package size is about how large particles are: standard sieves, what a sieve
// analysis or a laser instrument says, and what each size holds of a metal or
// mineral.
//
// What goes in: masses weighed on a stack of sieves with its pan, or a cumulative
// curve, and assays of the fractions; all may be uncertain. What comes out: a
// Distribution, with the mass retained, the cumulative passing, sizes such as d50
// and d80, means and surfaces, and the grade and metal by size. Distributions can
// be told on other sieves, blended and split, and described by a Model, whose
// parameters a Fit finds with their errors.
//
// It never rescales what was weighed: a loss in sieving is reported by Loss and
// judged by CheckLoss against a tolerance you state. It never extrapolates
// beyond the coarsest or finest sieve unless you state the bounds with Close, and
// it never guesses between the sieve series: "200 mesh" is refused, because mesh
// counts differ between them.
//
// Sizes are openings of square-meshed sieves. Shares and grades are quantities
// without dimension, shown in % unless the data came in another unit.
//
// Read Distribution first, then FindSieve.
package size
