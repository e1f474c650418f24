package balance

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// TwoProduct is a separation of one feed into a concentrate and a tailing, known
// by its three grades f, c and t. Make one with Grades. What follows from the
// grades are its methods; where grades are uncertain, so is what follows.
type TwoProduct struct {
	feed, concentrate, tailing quantity.Quantity
	f, c, t                    float64 // the same as fractions
}

// Grades is the balance of a separation from the grades of its feed, its
// concentrate and its tailing, in this order.
//
// Units: shares of mass, as in % or g/t, or plain fractions.
//
// Range: 0 ≤ t < f < c ≤ 100 %, or the reverse, 100 % ≥ t > f > c ≥ 0, where
// the concentrate is the poorer product in what was assayed.
//
// Errors: a grade with a dimension or outside 0 to 100 %; a feed grade that does
// not lie between the other two, so that no split of the feed gives them.
//
// Source: mass balance of solids, F = C + T, and of the metal, F·f = C·c + T·t.
func Grades(feed, concentrate, tailing quantity.Quantity) (TwoProduct, error) {
	b := TwoProduct{feed: feed, concentrate: concentrate, tailing: tailing}
	for _, grade := range []struct {
		of   string
		from quantity.Quantity
		to   *float64
	}{{"feed", feed, &b.f}, {"concentrate", concentrate, &b.c}, {"tailing", tailing, &b.t}} {
		share, err := grade.from.Float()
		if err != nil {
			return TwoProduct{}, fmt.Errorf("balance: the grade of the %s is a share of mass, as in %% or g/t, and %v is not", grade.of, grade.from)
		}
		if !(share >= 0 && share <= 1) {
			return TwoProduct{}, fmt.Errorf("balance: the grade of the %s lies between 0 and 100 %%, and %v does not; write a percentage with its unit",
				grade.of, grade.from)
		}
		*grade.to = share
	}
	rising := b.t < b.f && b.f < b.c
	falling := b.c < b.f && b.f < b.t
	if !rising && !falling {
		return TwoProduct{}, fmt.Errorf("balance: the feed grade lies between those of concentrate and tailing; "+
			"feed %v, concentrate %v, tailing %v do not, so look at the three assays", feed, concentrate, tailing)
	}
	return b, nil
}

// Feed is the grade of the feed, f, as given.
func (b TwoProduct) Feed() quantity.Quantity { return b.feed }

// Concentrate is the grade of the concentrate, c, as given.
func (b TwoProduct) Concentrate() quantity.Quantity { return b.concentrate }

// Tailing is the grade of the tailing, t, as given.
func (b TwoProduct) Tailing() quantity.Quantity { return b.tailing }

// Yield is the mass of concentrate per mass of feed, in %:
//
//	Y = C/F = (f − t)/(c − t)
func (b TwoProduct) Yield() quantity.Quantity { return b.through(yieldOf, 100, "%") }

// Recovery is the share of the metal that reaches the concentrate, in %:
//
//	R = Y·c/f = c·(f − t)/(f·(c − t))
func (b TwoProduct) Recovery() quantity.Quantity {
	return b.through(func(f, c, t float64) float64 { return yieldOf(f, c, t) * c / f }, 100, "%")
}

// Loss is the share of the metal that is lost to the tailing, in %: 1 − R.
func (b TwoProduct) Loss() quantity.Quantity {
	return b.through(func(f, c, t float64) float64 { return (1 - yieldOf(f, c, t)) * t / f }, 100, "%")
}

// Enrichment is the enrichment ratio c/f, a plain number.
func (b TwoProduct) Enrichment() quantity.Quantity {
	return b.through(func(f, c, _ float64) float64 { return c / f }, 1, "1")
}

// Concentration is the ratio of concentration F/C = 1/Y, a plain number: the
// tonnes of feed for a tonne of concentrate.
func (b TwoProduct) Concentration() quantity.Quantity {
	return b.through(func(f, c, t float64) float64 { return 1 / yieldOf(f, c, t) }, 1, "1")
}

func yieldOf(f, c, t float64) float64 { return (f - t) / (c - t) }

// through carries uncertain grades through a formula of f, c and t.
func (b TwoProduct) through(of func(f, c, t float64) float64, factor float64, unit string) quantity.Quantity {
	q, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		return quantity.Of(factor*of(fraction(v[0]), fraction(v[1]), fraction(v[2])), unit), nil
	}, b.feed, b.concentrate, b.tailing)
	if err != nil {
		panic("balance: " + err.Error()) // Grades has refused all that could lead here
	}
	return q
}

// SeparationEfficiency is the recovery of the valuable mineral less the recovery
// of gangue, in %, where m is the grade of the pure mineral:
//
//	SE = Rm − Rg = Y·m·(c − f)/((m − f)·f)
//
// It is 0 where a splitter divides the feed unchanged and 100 % for a perfect
// separation. Hancock's efficiency is the same:
//
//	(c − f)·(f − t)·m/(f·(m − f)·(c − t))
//
// Units: pure is a share of mass, as the grades are.
//
// Range: m above f, and not below the grades of concentrate and tailing.
//
// Errors: m with a dimension or outside that range.
//
// Source: N.F. Schulz, Trans. SME-AIME 247 (1970) 81 (reference from memory).
func (b TwoProduct) SeparationEfficiency(pure quantity.Quantity) (quantity.Quantity, error) {
	m, err := pure.Float()
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("balance: the grade of the pure mineral is a share of mass, and %v is not", pure)
	}
	if !(m > b.f && m >= b.c && m >= b.t && m <= 1) {
		return quantity.Quantity{}, fmt.Errorf("balance: the pure mineral holds %v, which is not between the richest of the three grades (feed %v, concentrate %v, tailing %v) and 100 %%",
			pure, b.feed, b.concentrate, b.tailing)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		f, c, t, m := fraction(v[0]), fraction(v[1]), fraction(v[2]), fraction(v[3])
		return percent(yieldOf(f, c, t) * m * (c - f) / ((m - f) * f)), nil
	}, b.feed, b.concentrate, b.tailing, pure)
}

// Table is the balance as a table of the three streams: their shares of the
// mass, their grades, their shares of the metal.
func (b TwoProduct) Table() table.Table {
	t, err := table.New(
		table.Texts("stream", []string{"feed", "concentrate", "tailing"}),
		table.Quantities("mass", []quantity.Quantity{percent(1), b.Yield(), b.through(func(f, c, t float64) float64 { return 1 - yieldOf(f, c, t) }, 100, "%")}),
		table.Quantities("grade", []quantity.Quantity{b.feed, b.concentrate, b.tailing}),
		table.Quantities("metal", []quantity.Quantity{percent(1), b.Recovery(), b.Loss()}),
	)
	if err != nil {
		panic("balance: " + err.Error()) // Grades has refused all that could lead here
	}
	return t
}

// String is Table as text.
func (b TwoProduct) String() string { return b.Table().String() }

// HTML is Table as HTML.
func (b TwoProduct) HTML() string { return b.Table().HTML() }

// Markdown is Table as Markdown.
func (b TwoProduct) Markdown() string { return b.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (b TwoProduct) LaTeX() string { return b.Table().LaTeX() }

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }
