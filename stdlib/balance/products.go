package balance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Metal is the grades of one metal, oxide or mineral around a separation.
type Metal struct {
	Name     string
	Feed     quantity.Quantity
	Products []quantity.Quantity // in the order of the products
}

// ManyProducts is a separation of one feed into several products, known by the
// grades of several metals. Make one with Products.
type ManyProducts struct {
	names  []string
	metals []Metal
}

// worstCondition bounds how much the errors of assays may be magnified before
// the answer means nothing.
const worstCondition = 1e6

// Products is the balance of a separation into n products from the grades of
// n−1 metals in the feed and in each product. The yields solve
//
//	Σ Yj = 1  and  Σ Yj·aij = fi  for each metal i
//
// Two products and one metal are the two-product formula; three products and
// two metals are the balance of, for instance, lead and zinc concentrates with
// their tailing.
//
// Units: grades are shares of mass, as in % or g/t; the products of each metal
// stand in the order of names.
//
// Range: two products or more. The answer follows the assays as they are; it is
// not adjusted.
//
// Errors: another number of metals than one fewer than the products, a metal
// without a name of its own, a grade missing, with a dimension or outside 0 to 100 %; products so alike that the
// grades cannot tell them apart; grades that no split of the feed gives.
//
// Source: mass balance of the solids and of each metal.
func Products(names []string, metals ...Metal) (ManyProducts, error) {
	n := len(names)
	if n < 2 || len(metals) != n-1 {
		return ManyProducts{}, fmt.Errorf("balance: %d products need the grades of %d metals; there are %d", n, max(1, n-1), len(metals))
	}
	if err := checkNames(metals); err != nil {
		return ManyProducts{}, err
	}
	rows, right := [][]float64{slices.Repeat([]float64{1}, n)}, []float64{1}
	for _, metal := range metals {
		row, feed, err := metal.row(names)
		if err != nil {
			return ManyProducts{}, err
		}
		rows, right = append(rows, row), append(right, feed)
	}
	yields, condition := solveScaled(rows, right)
	if condition > worstCondition {
		return ManyProducts{}, fmt.Errorf("balance: the grades cannot tell the products %s apart; assay another metal", strings.Join(names, ", "))
	}
	for i, yield := range yields {
		if !(yield >= 0 && yield <= 1) {
			return ManyProducts{}, fmt.Errorf("balance: no split of the feed gives these grades: the yield of %s would be %.4g %%; look at the assays", names[i], 100*yield)
		}
	}
	return ManyProducts{names: slices.Clone(names), metals: slices.Clone(metals)}, nil
}

func checkNames(metals []Metal) error {
	seen := map[string]bool{}
	for i, metal := range metals {
		if metal.Name == "" || seen[metal.Name] {
			return fmt.Errorf("balance: metal %d needs a name of its own, and %q is not", i+1, metal.Name)
		}
		seen[metal.Name] = true
	}
	return nil
}

// row is the metal's grades as fractions.
func (m Metal) row(products []string) (row []float64, feed float64, err error) {
	if len(m.Products) != len(products) {
		return nil, 0, fmt.Errorf("balance: %s: %d products and %d grades", m.Name, len(products), len(m.Products))
	}
	row = make([]float64, len(m.Products))
	for i, grade := range m.Products {
		if row[i], err = m.fraction(products[i], grade); err != nil {
			return nil, 0, err
		}
	}
	feed, err = m.fraction("the feed", m.Feed)
	if err == nil && feed == 0 {
		err = fmt.Errorf("balance: %s: the feed holds none, so it says nothing of the products", m.Name)
	}
	return row, feed, err
}

func (m Metal) fraction(of string, grade quantity.Quantity) (float64, error) {
	share, err := grade.Float()
	if err != nil || !(share >= 0 && share <= 1) {
		return 0, fmt.Errorf("balance: %s: the grade of %s is a share of mass between 0 and 100 %%, and %v is not", m.Name, of, grade)
	}
	return share, nil
}

// solveScaled divides each metal's row by its largest grade first, so that the
// condition number speaks of the products and not of g/t beside %.
func solveScaled(rows [][]float64, right []float64) ([]float64, float64) {
	for i, row := range rows {
		largest := slices.Max(row)
		if largest == 0 {
			continue
		}
		right[i] /= largest
		for j := range row {
			row[j] /= largest
		}
	}
	return numeric.Solve(rows, right)
}

// Yields are the masses of the products per mass of feed, in %; uncertain where
// grades are.
func (b ManyProducts) Yields() []quantity.Quantity {
	return b.through(func(i int, yields []float64, _ [][]float64, _ []float64) float64 { return yields[i] })
}

// through carries uncertain grades through the balance: for each product one share,
// from the yields, the rows of grades (the first all 1) and the feed's.
func (b ManyProducts) through(of func(i int, yields []float64, rows [][]float64, feeds []float64) float64) []quantity.Quantity {
	var grades []quantity.Quantity
	for _, metal := range b.metals {
		grades = append(append(grades, metal.Feed), metal.Products...)
	}
	n := len(b.names)
	shares := make([]quantity.Quantity, n)
	for i := range shares {
		q, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			rows, feeds := [][]float64{slices.Repeat([]float64{1}, n)}, []float64{1}
			for m := range b.metals {
				feeds = append(feeds, fraction(v[m*(n+1)]))
				row := make([]float64, n)
				for j := range row {
					row[j] = fraction(v[m*(n+1)+1+j])
				}
				rows = append(rows, row)
			}
			scaled := make([][]float64, n)
			for m := range rows {
				scaled[m] = slices.Clone(rows[m])
			}
			yields, _ := solveScaled(scaled, slices.Clone(feeds))
			if yields == nil {
				return percent(math.NaN()), nil
			}
			return percent(of(i, yields, rows, feeds)), nil
		}, grades...)
		if err != nil {
			panic("balance: " + err.Error()) // Products has refused all that could lead here
		}
		shares[i] = q
	}
	return shares
}

// Recoveries are the shares of one metal that reach each product, Yj·aj/f, in %.
//
// Units: shares of the metal, in the order of the products.
//
// Range: from 0 to 100 %; they add up to 100 %.
//
// Errors: a metal that the balance was not made with.
//
// Source: mass balance of the metal.
func (b ManyProducts) Recoveries(metal string) ([]quantity.Quantity, error) {
	var known []string
	for _, m := range b.metals {
		if m.Name == metal {
			return b.recoveries(m), nil
		}
		known = append(known, m.Name)
	}
	return nil, fmt.Errorf("balance: no grades of %q; there are %s", metal, strings.Join(known, ", "))
}

func (b ManyProducts) recoveries(m Metal) []quantity.Quantity {
	row := 1 + slices.IndexFunc(b.metals, func(other Metal) bool { return other.Name == m.Name })
	return b.through(func(i int, yields []float64, rows [][]float64, feeds []float64) float64 {
		return yields[i] * rows[row][i] / feeds[row]
	})
}

// Table is the balance as a table: the feed and the products with their share
// of the mass, and for each metal the grade and the share of it.
func (b ManyProducts) Table() table.Table {
	first := func(whole quantity.Quantity, rest []quantity.Quantity) []quantity.Quantity {
		return append([]quantity.Quantity{whole}, rest...)
	}
	columns := []table.Column{
		table.Texts("stream", append([]string{"feed"}, b.names...)),
		table.Quantities("mass", first(percent(1), b.Yields())),
	}
	for _, m := range b.metals {
		columns = append(columns,
			table.Quantities(m.Name+" grade", first(m.Feed, m.Products)),
			table.Quantities(m.Name+" share", first(percent(1), b.recoveries(m))))
	}
	t, err := table.New(columns...)
	if err != nil {
		panic("balance: " + err.Error()) // Products has refused all that could lead here
	}
	return t
}

// String is Table as text.
func (b ManyProducts) String() string { return b.Table().String() }

// HTML is Table as HTML.
func (b ManyProducts) HTML() string { return b.Table().HTML() }

// Markdown is Table as Markdown.
func (b ManyProducts) Markdown() string { return b.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (b ManyProducts) LaTeX() string { return b.Table().LaTeX() }
