// Package stream is what flows through a plant: solids spread over classes of
// size and of particles, with their water.
//
// What goes in: minerals, particles made of them (free, or locked in stated
// shares), the openings that bound the size classes, and how much of each class
// there is, told as flows or as a rate with a size distribution. What comes out:
// Streams, from which everything a report quotes is derived: grades, size
// distributions, densities, per cent solids, volume flows, recoveries. Streams
// are mixed, split and transformed, and mass closes by construction.
//
// It never stores a figure twice, never rescales shares that do not add up, and
// never loses mass: the last product of a split gets what remains, and a
// transformation that makes or loses mass of a mineral is refused. It knows no
// machines; those are packages of their own, which work on these streams.
//
// Rates are of dry solids unless a name says pulp. The flows of a stream are
// plain numbers, kg/s: where a rate, a share or a density is uncertain, its mean
// is used. For uncertain results wrap the whole calculation in quantity.Through,
// as an example here shows.
//
// Read Particle first, then Classes, then Stream.
package stream
