// Package chart draws the charts of the trade: size distributions, assays by
// size, grade against recovery, partition curves, washability, balances as
// waterfalls, tornadoes of sensitivities, histograms of uncertain values,
// break-even points and ledgers of energy.
//
// What goes in: distributions, curves and quantities as the library's other
// packages give them, each chart under a title. What comes out: a figure of
// package plot, which a notebook shows by itself, and which can stand among
// panels, be given words for readers who cannot see it, and be saved.
//
// A chart never changes or completes the data. What has no place on a scale, such
// as 100 % passing on a Rosin–Rammler axis, is left out and the chart says so;
// what does not add up in a balance gets a bar of its own. Circuits and flows
// are drawn by package flowsheet; all other figures by plot.
//
// Read SizeDistributions first, then Histogram.
package chart
