// Package quantity is arithmetic with units: a number, the unit it is shown in,
// and the dimension that decides what may be added to what.
//
// Read [Quantity] first. In go numbers with units ([New], [Of], [Parse]); out
// come quantities whose unit follows from the units that went in, so that
// 12 kWh/t times 250 t/h is 3000 kW. [ParseUnit] reads units as the trade
// writes them; the table itself is units.txt, whose header explains it.
//
// What the package never does: it never guesses between two meanings of a
// word (a ton, an ounce, a gallon, a horsepower is refused, with the choices),
// never converts one currency into another without a rate that was declared,
// never mixes readings of a temperature scale with temperature differences,
// and never drops a unit silently.
//
// Values are kept in the unit they are shown in, not in SI units, so that what
// was typed is what is printed and sums in one unit are plain sums.
//
// An uncertain quantity ([Normal], [Uniform], [Triangular], [Readings], ...)
// carries samples through arithmetic, so that correlation is kept; [Quantity.Interval],
// [Quantity.FirstOrder] and [Quantity.Influences] say what came out. A function
// that takes the number out of a quantity takes the mean; [Through] carries the
// samples through such a function.
package quantity
