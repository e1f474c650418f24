// Package gravity is about separations by density in water and in dense media:
// jigs, spirals, shaking tables, baths and cyclones, as partition curves over
// density whose cut and sharpness change with the size of the grains.
//
// What goes in: a Separator with its cut density, its probable error or
// imperfection for grains of a size, and how these change with size; densities of
// a medium and its solids. What comes out: the heavy and the light product of a
// stream; the partition model of one size; the density of media; the criterion
// that says whether gravity will do at all. Separator is a unit operation: it has
// Products, Apply and Power.
//
// The package does not compute how sharply a machine cuts: that must come from a
// test, and partition fits it. Jig, Spiral, ShakingTable and DenseMedium give usual
// figures to begin with, from memory, good for an order only. It never separates
// grains outside the sizes a machine is for: these go as the water does.
//
// All figures are of tests on the Earth. With another gravity a grain is treated
// as the one on the Earth that settles at the same Galileo number, which is
// similarity and not experience: no such machine has run elsewhere.
//
// Read Separator first.
package gravity
