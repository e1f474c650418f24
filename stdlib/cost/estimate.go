package cost

import (
	"fmt"
	"strconv"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Estimate is an amount of money as someone stated it: for what capacity, in which
// year.
type Estimate struct {
	Name     string
	Cost     quantity.Quantity // in a currency
	Year     int
	Capacity quantity.Quantity // nothing where the cost does not go by capacity
	Source   string
}

// Update is what an old estimate becomes. Estimate.Update makes it.
type Update struct {
	Estimate
	To       int
	Wanted   quantity.Quantity // capacity
	Exponent quantity.Quantity
	Index    quantity.Quantity // factor of the index
	Size     quantity.Quantity // factor of the capacity
	Now      quantity.Quantity // the cost
	series   string
}

// Update carries an estimate to another year and capacity:
//
//	cost·(index of the year/index of its own)·(wanted/capacity)^n
//
// Units: wanted measures what Capacity does; nothing leaves the capacity as it is. The
// result is in the currency of the estimate.
//
// Range: of Series.Factor and Scale. An index is of one country; it escalates its
// currency.
//
// Errors: an amount that is no money; years that the series does not hold; a wanted
// capacity for an estimate without one; what Scale refuses.
//
// Source: common practice of cost engineering.
func (e Estimate) Update(s Series, year int, wanted, exponent quantity.Quantity) (Update, error) {
	if !isMoney(e.Cost) {
		return Update{}, fmt.Errorf("cost: %s: %v is no money; give it in a currency, as USD", e.Name, e.Cost)
	}
	index, err := s.Factor(e.Year, year)
	if err != nil {
		return Update{}, fmt.Errorf("%s: %w", e.Name, err)
	}
	u := Update{Estimate: e, To: year, Wanted: e.Capacity, Exponent: exponent, Index: index, Size: quantity.Number(1), series: s.name}
	if !wanted.IsNothing() {
		if e.Capacity.IsNothing() {
			return Update{}, fmt.Errorf("cost: %s has no capacity from which to go to %v", e.Name, wanted)
		}
		if u.Size, err = Scale(quantity.Number(1), e.Capacity, wanted, exponent); err != nil {
			return Update{}, fmt.Errorf("%s: %w", e.Name, err)
		}
		u.Wanted = wanted
	}
	u.Now = e.Cost.Mul(u.Index).Mul(u.Size)
	return u, nil
}

func isMoney(q quantity.Quantity) bool {
	return q.Dimension() == quantity.Of(1, "USD").Dimension()
}

// Table is the update step by step.
func (u Update) Table() table.Table {
	names := []string{"as stated, " + strconv.Itoa(u.Year), "index to " + strconv.Itoa(u.To)}
	values := []string{u.Cost.String(), "× " + u.Index.String()}
	if !u.Capacity.IsNothing() {
		names = append(names, fmt.Sprintf("capacity %v to %v", u.Capacity, u.Wanted))
		values = append(values, "× "+u.Size.String())
	}
	names, values = append(names, "in money of "+strconv.Itoa(u.To)), append(values, u.Now.String())
	caption := u.Name + ", by " + u.series
	if u.Source != "" {
		caption += "; stated by " + u.Source
	}
	return tabled(caption, table.Texts("step", names), table.Texts("value", values))
}

// String is Table as text.
func (u Update) String() string { return u.Table().String() }

// HTML is Table as HTML.
func (u Update) HTML() string { return u.Table().HTML() }

// Markdown is Table as Markdown.
func (u Update) Markdown() string { return u.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (u Update) LaTeX() string { return u.Table().LaTeX() }
