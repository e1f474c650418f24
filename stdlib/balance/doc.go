// Package balance closes the arithmetic around a separation: what share of the
// feed a product takes, what share of the metal, how much the grade has risen,
// and how far the answer can be trusted.
//
// What goes in: grades of feed, concentrate and tailing, and size distributions
// with assays. What comes out: TwoProduct, the balance of one separation,
// ManyProducts, the same for more products and metals, and SizeBalance, the same
// for each size class.
//
// It never adjusts a measurement. The two-product formula takes three grades as
// they are and refuses those between which no separation is possible; how much
// it multiplies their errors is told by Sensitivity.
//
// All results are shares without dimension, shown in %, or plain ratios. Read
// TwoProduct first.
package balance
