// Package classification is about separations by how fast grains move through
// water or gas: hydrocyclones, air classifiers, and gas cyclones.
//
// What goes in: the dimensions of a machine, its feed as a stream, the fluid and,
// where it matters, gravity. What comes out: cut sizes for each density, pressure
// drops, splits of water, the two products of a stream; the diameter a hydrocyclone
// should have. Hydrocyclone, AirClassifier and GasCyclone are unit operations: they
// have Products, Apply and Power.
//
// The package never gives one cut to all: dense grains are cut finer than light
// ones of the same size, and a class of locked grains by its own density. It refuses
// a vacuum, where nothing carries grains, and a hydrocyclone whose apex would rope.
//
// The hydrocyclone's equations are fits to tests with silica in water; without
// calibration on a survey expect a cut that is wrong by some tens of per cent, and
// use the factors Plitt's model has for it.
//
// Dust of a classifier harms lungs and may explode; pressure vessels and fans have
// rules of their own. Local codes and licensed practice come first.
//
// Read Hydrocyclone and AirClassifier first.
package classification
