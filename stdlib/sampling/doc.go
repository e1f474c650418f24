// Package sampling is about how well a sample stands for what it was taken from:
// Gy's fundamental error and the least mass of a sample, the precision that
// duplicates show, and how many increments a lot needs.
//
// What goes in: top size, grade, densities and liberation of a material; masses;
// pairs of duplicate assays; the spread between increments. What comes out:
// relative errors, masses, top sizes, a Precision, counts.
//
// The fundamental error is only the part of the error that no care can remove.
// It says nothing of segregation, of badly cut increments or of the assay itself,
// and the package never adds an allowance for them by itself: Together adds what
// is known. An error is always one standard deviation, relative to the grade.
//
// Uncertain quantities give uncertain results. Read Material and Gy first.
package sampling
