// Package flowsheet joins units by streams and finds the state in which a plant
// runs steadily, recycles included.
//
// What goes in: feeds, which are streams of one grid of classes, and steps, each
// a unit with the names of the streams it takes. A unit is any value with the
// methods of Unit; the models of this library have them, and a type written in a
// notebook may. What comes out: a Result with every stream, the closure of
// masses, the way the solution was found, the energy each unit draws, tables,
// the drawing of the circuit and a flow diagram with widths to scale. Find
// answers questions of design, Carry takes uncertain inputs through a plant,
// Swing varies them one at a time, Compare sets plants side by side.
//
// Streams are named by their unit and its product, as in "drum.magnetics"; the
// only product of a unit also by the unit alone. A stream goes to one place:
// parting it takes a Splitter. What goes nowhere leaves the plant.
//
// The package never closes a balance by force: it says how far the recycles are
// from settled, and a circuit that does not settle is an error that names the
// class that keeps growing. A circuit of units that depend on their feed may have
// more than one steady state; the one found is that reached from empty. A stream
// has no uncertainty of its own: uncertain fields of a unit count by their means,
// unless they go through Carry.
//
// What a solution costs is passes × units × classes. A circuit of six units with a
// recycle through two mills, on 12 sizes × 8 particles, settles in 17 passes and
// takes 1 ms of one core of a common server (BenchmarkThousandSolves); 0.3 ms on 6 ×
// 4, 10 ms on 30 × 32. Where each of n units has a recycle of its own, n + 1 passes
// of n units are made: 0.2 ms for two units, 4 ms for sixteen.
//
// Figures of power are for comparing circuits. Machines that rotate, carry high
// voltage, attract iron or raise dust hurt people: local codes and licensed
// practice decide how they are built, guarded and run.
//
// Read Unit first, then New, Flowsheet.Solve and Result.
package flowsheet
