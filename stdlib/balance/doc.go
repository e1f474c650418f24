// Package balance closes the arithmetic around separations and whole plants: what
// share of the feed a product takes, what share of the metal, how much the grade has
// risen, how far the answer can be trusted, and how measurements that do not agree
// are brought to agree.
//
// What goes in: grades of feed, concentrate and tailing; masses and grades of
// products; size distributions with assays; the streams of a plant with what was
// measured of them. What comes out: TwoProduct, the balance of one separation,
// ManyProducts, the same for more products and metals, SizeBalance, the same for each
// size class, GradeRecovery, what products add up to, Separation, the measures of the
// literature, and Reconciled, a Network whose figures balance.
//
// Only Network.Reconcile adjusts a measurement, and it says which, by how much and
// whether that is more than chance. All else takes figures as they are: the
// two-product formula refuses grades between which no separation is possible, and
// how much it multiplies their errors is told by Sensitivity and Trust. Nothing is
// rescaled to add up.
//
// All results are shares without dimension, shown in %, or plain ratios; flows keep
// their unit. Read TwoProduct first, then Network.
package balance
