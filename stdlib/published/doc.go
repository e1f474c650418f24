// Package published holds the library against numbers it did not make: worked
// examples of textbooks, standards and papers, each with its source and the
// tolerance that the printed digits allow. It is tests only; there is nothing
// to import.
//
// A case is recomputed from the published inputs and compared with the
// published result. Where the source is known at second hand or from memory,
// the case says so.
package published
