// Package kinetics is about recovery over time: batch tests and the models
// fitted to them, what the same material does in a bank of cells, residence times,
// and locked-cycle tests.
//
// What goes in: times with cumulative recoveries, or products with masses and
// grades; volumes and flows; tracer curves; the products of cycles. What comes
// out: a Test, a Model given or fitted, recoveries in a bank, a Residence, a
// Locked test with its projection.
//
// A model is never taken beyond a recovery of 100 %: a fit that would pass it is
// held there and says so. A locked-cycle test is never averaged over cycles that
// have not settled unless told to.
//
// Read Test first, then Model.
package kinetics
