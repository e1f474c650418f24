// Package magnetic is about pulling grains apart by magnets: how minerals and
// metals magnetise, what a grain of several of them is pulled with in the field
// of a drum or roll, where on the drum it lets go, and what share of each class
// of a stream goes with the magnetics.
//
// What goes in: a Material with its susceptibility and saturation, taken from the
// table of minerals or stated; a Grain of materials; a Field with its strength at
// the surface and its pole pitch; a Drum (dry drum or roll), a WetDrum or a Tube.
// What comes out: magnetisations, pulls per mass, angles of release, flights to a
// splitter, depths of burden, and the two products of a stream. Drum, WetDrum and
// Tube are unit operations: they have Products, Apply and Power.
//
// The package never lets a grain be pulled harder than its saturation and its
// shape allow, and never assumes the Earth: gravity, gas and liquid are fields,
// and the zero value of gravity stands for that of the Earth. It takes no
// susceptibility from a range so wide that its middle would mean nothing; it asks
// for one. It does not know remanence, the clustering of magnetised grains, or
// what one grain shields from another.
//
// Real drums separate less sharply than a balance of forces on one grain. How
// much less is Scatter and Carried, and these must come from a test on the
// machine; without one they are guesses, and a result should be shown for a range
// of them.
//
// Strong magnets crush fingers, snatch tools, and stop pacemakers at a distance;
// drums and rolls draw in hands and clothes; dry separation makes dust that harms
// lungs and may burn. Guarding, locking off, and distance come first, and local
// codes and licensed practice above anything computed here.
//
// Read Material, Field and Drum first.
package magnetic
