// Package place says where a plant stands: gravity, gas, temperatures, length of
// the day and sunlight on the Earth, the Moon, Mars, Mercury, two large
// asteroids, a small one, the moons of Mars, or a place of one's own.
//
// What goes in: the name of a place, or figures of one's own. What comes out: a
// Place, whose fields are what models take as gravity, pressure and temperature,
// and whose methods give the density, viscosity and mean free path of its gas.
// Each figure of a known place has its source beside it, which Figures shows.
//
// Models never ask this package: they take gravity or a gas as plain quantities,
// and stand on the Earth where they are given none. The package averages nothing
// over latitude, height or season and makes no figure up: a temperature that
// nobody states is left out.
//
// Gravity is GM/R² for all bodies but the Earth, whose standard acceleration is
// agreed. Tables that include rotation differ: for Mars they print 3.69 to 3.73
// m/s². On a small body gravity changes from place to place by more than that.
//
// Read Place first, then Named.
package place
