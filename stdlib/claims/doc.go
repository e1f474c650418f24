// Package claims keeps a ledger of the figures that a document states, and of
// what checking them showed.
//
// What goes in: figures with their units, as quantities or as the document
// writes them, with the place where they stand and what they rest on; then
// checks: against computed values, against the other figures of the document,
// against what is physically possible. What comes out: a verdict for each check
// with the ratio and the reason, and the ledger as a table fit for a review and
// as text. A figure that nothing was held against says so.
//
// A figure is known only to the digits it is written with, and a check allows
// for that: for half a unit of the last digit, and for the tolerance given. A
// check whose figures the document does not state is a verdict too: cannot be
// checked, with what is missing.
//
// The package judges figures, never authors; and it never completes a document:
// what is not stated is not guessed.
//
// Read Ledger first.
package claims
