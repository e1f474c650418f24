// Package comminution is about making particles smaller: the energy that takes,
// how single particles break, and the machines, from crushing rolls and jaws
// through rotors that strike to tumbling mills.
//
// What goes in: sizes, work indices, results of drop-weight and batch grinding
// tests, dimensions and speeds of machines, streams. What comes out: energies per
// mass, powers and capacities; the t10 of an impact and the sizes of its fragments;
// parameters fitted to tests, with their errors; how far metal flattens; and from the
// unit operations Crusher, ImpactMill and BallMill a broken stream.
//
// The package never takes a work index for another: one is a quantity in kWh/t or
// kWh/st, and a plain number is refused, because the tables of the trade count by
// the short ton and readers by the metric one. It never uses a formula outside the
// range it was made for without saying so, and it takes gravity as a field
// wherever a machine falls, throws or tumbles.
//
// Uncertain quantities give uncertain results in the formulas. A unit operation
// works on the plain flows of a stream with the means of its fields.
//
// Machines that break rock break people. Rotors, mills and crushers store energy
// that outlasts the motor, throw pieces, and pull in what touches them; dust can
// ignite and harms lungs. Nothing here is a design: guarding, isolation before
// opening, over-speed protection, burst containment and dust control are governed
// by local codes and licensed practice, which come first.
//
// Read Law and Bond first, then Impact, then ImpactMill and BallMill.
package comminution
