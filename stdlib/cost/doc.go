// Package cost is about what plants and tonnes cost: a price carried to another
// capacity and another year, indices of cost, what a tonne uses, and money over
// time.
//
// What goes in: amounts in a currency, which are quantities, with the year they
// hold for; capacities; a Series, your own or the embedded public one; rates of
// interest. What comes out: an Update, step by step; a Bill of unit costs; present
// worths and annuities.
//
// It knows no price of anything. One currency is never turned into another: do
// that in the year of the price, with the rate of that year, and say so. A Series
// is never extrapolated. An estimate made so is worth ±30 % at best; give exponents
// and prices as uncertain quantities, and the result says what they leave open.
//
// Uncertain quantities give uncertain results. Read Estimate first, then Series.
package cost
