// Package sorting is about taking pieces one by one: a sensor reads each piece on
// a belt, and a jet or flap takes out those whose reading passes a threshold.
//
// What goes in: a Sorter with what its sensor sees, the threshold, the noise of a
// reading, how surely it hits and how far a jet reaches; a stream of pieces. What
// comes out: the chance that a piece of a grade is taken, how crowded the belt is,
// what is blown along with others, and the two products. Sorter is a unit
// operation: it has Products, Apply and Power.
//
// The package never looks inside a class: all its particles have one grade, and
// what differs between them belongs in Noise. It takes pieces as spread over the
// belt by chance and never lets the belt carry more than one layer. It knows no
// machine: noise, hits and reach must come from a test with marked pieces.
//
// X-ray sensors, lasers and compressed air need their own protection. Local codes
// and licensed practice come first.
//
// Read Sorter first.
package sorting
