// Package haulage is about moving material: what roads and grades resist, what a
// vehicle takes in energy and time for each tonne, how many vehicles keep up with
// a rate, conveyors, trains, digging, and whether a plant should travel to the
// face or stand still.
//
// What goes in: vehicles, legs of a road, masses, distances and a gravity; nothing
// for gravity is the Earth's. What comes out: forces, a Cycle with its time and
// energy, a Fleet, the pull of a belt, the force on a blade, a Journey that sets a
// travelling plant against a standing one, and the tonnage from which rails pay.
//
// Energy is what leaves the engine or the battery, drive losses included; what
// fuel, mirrors or cells make of it is not in it. Speeds are steady: what starting
// and stopping take is told by Effort, not added. Nothing here knows of dust,
// queues or bad weather.
//
// Moving machines crush, belts draw in, slopes slide. Figures from here do not
// make a road or a machine safe: local codes and licensed practice do.
//
// Uncertain quantities give uncertain results. Read Haul first, then Journey.
package haulage
