package partition

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Screening is a screen known by the shares of fines, particles smaller than its
// aperture, in feed, oversize and undersize. Make one with Screen. What is called
// its efficiency differs between books; each definition has a method and a name
// of its own. Uncertain shares give uncertain results.
type Screening struct {
	feed, oversize, undersize quantity.Quantity
}

// Screen is a screening from the shares f, o and u of fines in the feed, in the
// oversize and in the undersize product.
//
// Units: shares of mass, as in %.
//
// Range: 0 ≤ o < f < u ≤ 100 %.
//
// Errors: a share with a dimension or outside 0 to 100 %; a feed that does not
// lie between the products, which no screen can give.
//
// Source: mass balance of the solids and of the fines.
func Screen(feed, oversize, undersize quantity.Quantity) (Screening, error) {
	var shares [3]float64
	for i, q := range []quantity.Quantity{feed, oversize, undersize} {
		x, err := shareOf(q)
		if err != nil {
			return Screening{}, fmt.Errorf("partition: fines in the %s: %w", []string{"feed", "oversize", "undersize"}[i], err)
		}
		shares[i] = x
	}
	if !(shares[1] < shares[0] && shares[0] < shares[2]) {
		return Screening{}, fmt.Errorf("partition: the oversize holds fewer fines than the feed and the undersize more; "+
			"feed %v, oversize %v, undersize %v do not, so look at the three sievings", feed, oversize, undersize)
	}
	return Screening{feed, oversize, undersize}, nil
}

func one() quantity.Quantity { return quantity.Number(1) }

// Undersize is the share of the feed that becomes undersize, in %:
//
//	U/F = (f − o)/(u − o)
func (s Screening) Undersize() quantity.Quantity {
	return s.feed.Sub(s.oversize).Div(s.undersize.Sub(s.oversize)).To("%")
}

// FinesRecovery is the share of the fines that the screen puts where they
// belong, in %, the efficiency of undersize removal:
//
//	Eu = u·(f − o)/(f·(u − o))
func (s Screening) FinesRecovery() quantity.Quantity {
	return s.Undersize().Mul(s.undersize).Div(s.feed).To("%")
}

// CoarseRecovery is the share of the coarse that the screen puts where it
// belongs, in %, the efficiency of oversize recovery:
//
//	Eo = (1 − o)·(u − f)/((1 − f)·(u − o))
func (s Screening) CoarseRecovery() quantity.Quantity {
	kept := s.undersize.Sub(s.feed).Div(s.undersize.Sub(s.oversize))
	return kept.Mul(one().Sub(s.oversize)).Div(one().Sub(s.feed)).To("%")
}

// Effectiveness is the product Eu·Eo of FinesRecovery and CoarseRecovery, in %.
// A screen that does nothing can reach 25 %.
//
// It is the definition of McCabe, Smith and Harriott (Unit Operations of
// Chemical Engineering, ch. 30) and of A.F. Taggart.
func (s Screening) Effectiveness() quantity.Quantity {
	return s.FinesRecovery().Mul(s.CoarseRecovery()).To("%")
}

// NewtonEfficiency is Eu + Eo − 1, in %: the share of the feed that is as if
// perfectly separated, the rest being only divided. A splitter has 0. It is the
// separation efficiency of Hancock and Schulz, applied to fines.
func (s Screening) NewtonEfficiency() quantity.Quantity {
	return s.FinesRecovery().Add(s.CoarseRecovery()).Sub(one()).To("%")
}

// FinesRemoval is the efficiency of a screen whose undersize is taken to hold
// nothing coarse, in %:
//
//	E = (f − o)/(f·(1 − o))
//
// the usual definition where only feed and oversize are sieved (common practice).
// It is FinesRecovery for u = 100 %.
func (s Screening) FinesRemoval() quantity.Quantity {
	return s.feed.Sub(s.oversize).Div(s.feed.Mul(one().Sub(s.oversize))).To("%")
}

// Misplaced is the share of the feed that lies in the wrong product, in %: fines
// in the oversize and coarse in the undersize.
func (s Screening) Misplaced() quantity.Quantity {
	under := s.Undersize()
	return one().Sub(under).Mul(s.oversize).Add(under.Mul(one().Sub(s.undersize))).To("%")
}

// Table is all of them, named.
func (s Screening) Table() table.Table {
	t, err := table.New(
		table.Texts("figure", []string{"undersize per feed, U/F", "recovery of fines, Eu", "recovery of coarse, Eo",
			"effectiveness, Eu·Eo", "Newton efficiency, Eu + Eo − 1", "removal of fines, undersize taken as clean", "misplaced material"}),
		table.Quantities("value", []quantity.Quantity{s.Undersize(), s.FinesRecovery(), s.CoarseRecovery(),
			s.Effectiveness(), s.NewtonEfficiency(), s.FinesRemoval(), s.Misplaced()}))
	if err != nil {
		panic("partition: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Efficiency of a screen by its definitions")
}

// String is Table as text.
func (s Screening) String() string { return s.Table().String() }

// HTML is Table as HTML.
func (s Screening) HTML() string { return s.Table().HTML() }

// Markdown is Table as Markdown.
func (s Screening) Markdown() string { return s.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (s Screening) LaTeX() string { return s.Table().LaTeX() }
