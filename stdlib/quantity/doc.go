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
// never mixes readings of a temperature scale with temperature differences, dry
// tonnes with wet ones, or fractions by mass with fractions by volume, and never
// drops a unit silently.
//
// Values are kept in the unit they are shown in, not in SI units, so that what
// was typed is what is printed and sums in one unit are plain sums.
//
// # Functions, lists and forms
//
// [Exp], [Log], [Power], [Sin] and their like take what has no dimension, or an
// angle; [Quantity.Sqrt], [Cbrt] and [Quantity.Pow] any unit that has a root.
// [Mean], [MedianOf], [Deviation], [WeightedMean] and [Sort] work on several
// quantities. [Quantity.Best] chooses a prefix, and [Quantity.Fixed],
// [Quantity.Significant], [Quantity.Engineering] and [Quantity.Fraction] the form
// of the number; all that is shown as text is read back by [Parse].
//
// A quantity does not remember how many digits were typed. [AsWritten] turns them
// into an uncertainty, which arithmetic carries to the result, and
// [Quantity.LikeInputs] follows the rule of thumb that counts digits.
//
// # Uncertainty
//
// An uncertain quantity ([Normal], [Uniform], [Triangular], [Readings], ...)
// carries samples through arithmetic, so that correlation is kept; [Quantity.Interval],
// [Quantity.FirstOrder] and [Quantity.Influences] say what came out, the last by
// the names that [Quantity.Named] gave. Inputs that depend on each other come from
// [Correlate], [CorrelateRanks], [Joint] or [JointCovariance].
//
// A function that takes the number out of a quantity takes the mean; [Through]
// carries the samples through such a function, whatever it does inside:
//
//	power, err := quantity.Through(func(a []quantity.Quantity) (quantity.Quantity, error) {
//		return millPower(a[0], a[1]) // any function of certain quantities
//	}, feed, work)
//
// Samples are strata of each distribution, each used once, and those of
// different inputs are paired as evenly as a Sobol sequence pairs them, so that
// quantiles of 10,000 scatter by about a hundredth of the standard deviation;
// the numbers are the same after the same [Seed].
//
// # Money
//
// Each currency is a thing of its own. A rate is a quantity to multiply by, as
// 1.08 USD/EUR, which may be uncertain, or is declared once by [Declare];
// [DeclareIndex] declares the money of each year of a price index.
package quantity
