package balance

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Separation is how far a product parts two constituents, by the recoveries v of the
// wanted and w of the unwanted one to it. The literature has many measures of it; each
// is a method, named. Make one with Separate. Uncertain recoveries give uncertain
// measures.
type Separation struct {
	wanted, unwanted quantity.Quantity
}

// Separate is the separation with the recoveries of the wanted and of the unwanted
// constituent to the product.
//
// Units: shares, as in %.
//
// Range: from 0 to 100 %. Where w exceeds v the product is the other one.
//
// Errors: shares outside that range or with a dimension.
//
// Source: the definition of a recovery.
func Separate(wanted, unwanted quantity.Quantity) (Separation, error) {
	for _, q := range []quantity.Quantity{wanted, unwanted} {
		if x, err := q.Float(); err != nil || !(x >= 0 && x <= 1) {
			return Separation{}, fmt.Errorf("balance: a recovery lies between 0 and 100 %%, and %v does not; write a percentage with its unit", q)
		}
	}
	return Separation{wanted, unwanted}, nil
}

func rest(q quantity.Quantity) quantity.Quantity { return quantity.Number(1).Sub(q) }

// Difference is v − w, in %: the separation efficiency of Hancock and of Schulz,
// Newton's and Youden's, Rietema's without its sign. A splitter has 0.
func (s Separation) Difference() quantity.Quantity { return s.wanted.To("%").Sub(s.unwanted) }

// Product is v·(1 − w), in %: the efficiency of Worrell. A splitter has up to 25 %.
func (s Separation) Product() quantity.Quantity {
	return s.wanted.Mul(rest(s.unwanted)).To("%")
}

// Root is √(v·(1 − w)), in %: Worrell's efficiency in the form of a geometric mean of
// both right placements. A splitter has up to 50 %.
func (s Separation) Root() quantity.Quantity { return s.Product().To("1").Sqrt().To("%") }

// Selectivity is Gaudin's selectivity index, a plain number:
//
//	√(v·(1 − w)/(w·(1 − v)))
//
// A splitter has 1; it grows without bound.
func (s Separation) Selectivity() quantity.Quantity {
	return s.wanted.Mul(rest(s.unwanted)).Div(s.unwanted.Mul(rest(s.wanted))).To("1").Sqrt()
}

// Table is all of them, named.
func (s Separation) Table() table.Table {
	show := func(q quantity.Quantity) string { return fmt.Sprintf("%.4g", q) }
	t, err := table.New(
		table.Texts("measure", []string{"difference (Hancock, Schulz, Newton)", "product (Worrell)", "root of the product", "selectivity index (Gaudin)"}),
		table.Texts("value", []string{show(s.Difference()), show(s.Product()), show(s.Root()), show(s.Selectivity())}))
	if err != nil {
		panic("balance: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Measures of separation")
}

// String is Table as text.
func (s Separation) String() string { return s.Table().String() }

// HTML is Table as HTML.
func (s Separation) HTML() string { return s.Table().HTML() }

// Markdown is Table as Markdown.
func (s Separation) Markdown() string { return s.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (s Separation) LaTeX() string { return s.Table().LaTeX() }

// Trust is a table of what relative errors of the three assays, equal and
// independent, make of yield and recovery: how much each assay moves the result
// (Sensitivity), all of them together, and the relative error that comes out. Where
// feed and tailing, or concentrate and tailing, are close, it comes out many times
// larger than it went in.
//
// Units: relative is the relative standard deviation of each assay, as in 2 %.
//
// Range: small errors; if what comes out is above some 20 %, the formula says little
// more than its sign. For errors that differ, give Grades uncertain quantities.
//
// Errors: a relative error that is no share above 0.
//
// Source: the derivatives of the two-product formula; propagation of errors, JCGM
// 100:2008, 5.1.2.
func (b TwoProduct) Trust(relative quantity.Quantity) (table.Table, error) {
	x, err := relative.Float()
	if err != nil || !(x > 0) {
		return table.Table{}, fmt.Errorf("balance: a relative error of the assays is a share above 0, as in 2 %%, and %v is not", relative)
	}
	y, r := b.YieldSensitivity(), b.RecoverySensitivity()
	t, err := table.New(
		table.Texts("result", []string{"yield", "recovery"}),
		table.Quantities("value", []quantity.Quantity{b.Yield(), b.Recovery()}),
		table.Numbers("by feed", []float64{y.Feed, r.Feed}),
		table.Numbers("by concentrate", []float64{y.Concentrate, r.Concentrate}),
		table.Numbers("by tailing", []float64{y.Tailing, r.Tailing}),
		table.Numbers("together", []float64{y.Together(), r.Together()}),
		table.Quantities("relative error", []quantity.Quantity{percent(x * y.Together()), percent(x * r.Together())}))
	if err != nil {
		return table.Table{}, err
	}
	return t.Caption(fmt.Sprintf("Assays known to %v of themselves", relative)), nil
}

// BestYield is the yield of a two-product separation by several components at once:
// the Y for which the squared gaps of the balances are least,
//
//	Y = Σ (f − t)·(c − t)/Σ (c − t)²
//
// and the yields that each component gives by itself, which show how well they
// agree. Components weigh by how far c and t lie apart.
//
// Units: grades are shares of mass; each component has two products, concentrate and
// tailing. Yields in %.
//
// Range: two components or more. Where standard deviations are known, Reconcile is
// the better answer.
//
// Errors: no component, one with another number of products, a grade out of range,
// concentrate and tailing alike in all.
//
// Source: B.A. Wills, T.J. Napier-Munn, Mineral Processing Technology, ch. 3 (from
// memory).
func BestYield(components ...Metal) (best quantity.Quantity, each []quantity.Quantity, err error) {
	if len(components) == 0 {
		return best, nil, fmt.Errorf("balance: no component is given")
	}
	if err := checkNames(components); err != nil {
		return best, nil, err
	}
	above, below := 0.0, 0.0
	for _, m := range components {
		row, feed, err := m.row([]string{"concentrate", "tailing"})
		if err != nil {
			return best, nil, err
		}
		c, t := row[0], row[1]
		above, below = above+(feed-t)*(c-t), below+(c-t)*(c-t)
		each = append(each, percent((feed-t)/(c-t)))
	}
	if below == 0 {
		return best, nil, fmt.Errorf("balance: concentrate and tailing are alike in every component, and nothing tells the yield")
	}
	return percent(above / below), each, nil
}
