// Package screening is about sieves in machines: which particles pass a moving mesh,
// how that depends on its motion, slope and load, how much a deck can take, and what
// another gravity changes.
//
// What goes in: meshes, motions, dimensions of decks, streams. What comes out: chances
// of passing, throws and speeds of travel, capacities with their factors, areas, and,
// from the unit operations CapacityDeck and TrialDeck, an oversize and an undersize.
//
// Two pictures stand side by side. CapacityDeck is fitted to plant screens: it knows
// load, near-size and spray, on the Earth. TrialDeck counts the throws in which a particle
// may fall through: it knows motion and gravity, and needs one sieving of one's own to be
// set right. Neither knows clay, fibres or frost; how far they agree says how far to
// trust them.
//
// Sizes are those that pass a square mesh. Efficiencies from three sievings are in
// package partition.
//
// Uncertain quantities give uncertain results, except in streams. Screens shake, throw
// dust and noise and are cleaned by hand: guards, isolation before entry and dust
// control follow local codes and licensed practice.
//
// Read Mesh and Motion first, then the two decks.
package screening
