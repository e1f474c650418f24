// Package stdlib is the map of cobber's library, the arithmetic of
// beneficiation. It holds no code; the packages below it do:
//
//   - quantity: numbers with units, and the table of units
//   - numeric: interpolation, sums, least squares and fits, over gonum
//   - size: sieves, size distributions, means, models and fits, assays by size
//   - mineral: atomic weights, formulas, compositions, minerals and blends
//   - stream: solids over classes of size and of particles, with their water
//   - balance: yield, recovery and enrichment, by size too; networks reconciled
//   - partition: partition curves, washability, the efficiency of screens
//   - sampling: fundamental error, least masses, duplicates, increments
//   - kinetics: recovery over time in batches and banks, locked cycles
//   - comminution: energy laws, single impacts, crushers, rotors and mills
//   - liberation: free and locked grains by size, before and after breakage
//   - screening: meshes, throws and decks, their partition and capacity
//   - settling: drag, terminal and hindered velocities, thickeners
//   - magnetic: magnetisation of grains, dry drums and rolls, wet drums, tube tests
//   - electrostatic: breakdown of gases, charges, plate and roll separators
//   - gravity: jigs, spirals, tables and dense media by partition curves
//   - classification: hydrocyclones, air classifiers, gas cyclones
//   - sorting: sensors and ejectors that take pieces one by one
//   - flowsheet: plants of units and recycles solved, energy, design, sensitivity
//   - haulage: roads, vehicles, belts, rails, digging; a plant that travels or stands
//   - cost: estimates carried to other years and capacities, unit costs, interest
//   - place: gravity, gas, temperatures, day and sunlight, on any world
//   - table: tables read from files and shown to people
//   - plot: lines and points on axes with units
//   - chart: the charts of the trade, drawn by plot
//   - claims: figures of a document, checked and judged
//   - show: what a running cell may do to the page
//   - control: sliders, choices and switches that draw a result anew
//   - bound: what the names of a session stand for, and forgetting them
//   - exercise: questions with other numbers for each student, and their marking
//   - published: tests only, against numbers others have published
//
// The library needs no kernel: every package is plain Go, and a notebook's cells
// can become a program. Go's own standard library is always called that; in
// this tree "stdlib" is ours.
//
// # What a comment says
//
// Every exported name has a comment. In the packages of methods, which is all
// but quantity, numeric, table, plot, show, control and bound, an exported function or method
// that can refuse its arguments says more, in paragraphs that begin with these
// words:
//
//   - Units: what goes in and comes out, with shapes of slices
//   - Range: where the method holds, and what it does outside
//   - Errors: what it refuses
//   - Source: the standard, book or paper; or "common practice"
//
// Formulas stand in the comment as preformatted text. doc_test.go holds the
// whole library to this.
package stdlib
