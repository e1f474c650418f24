// Package settling is about how fast particles fall: the drag of a fluid, the
// terminal velocity of one particle in any fluid and gravity, what a crowd of
// them does to it, which particles fall alike, and the area of a thickener.
//
// What goes in: particles with size, density and sphericity; a Fluid with density
// and viscosity; a gravity; settling tests. What comes out: a Fall with velocity,
// Reynolds number and drag coefficient; hindered velocities and fluxes; ratios of
// equal settling; a Thickening.
//
// Gravity and fluid are always given, never assumed: nothing here is tied to the
// Earth or to water. A vacuum is a fluid without density, and has no terminal
// velocity; the package says so and offers FreeFall. No law of drag is used
// outside the Reynolds numbers it was made for.
//
// Uncertain quantities give uncertain results. Read Particle, Fluid and Terminal
// first.
package settling
