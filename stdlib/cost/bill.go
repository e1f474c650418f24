package cost

import (
	"errors"
	"fmt"
	"strconv"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Item is what a tonne uses of something, and the price of it.
type Item struct {
	Name  string
	Use   quantity.Quantity // per mass, as in kWh/t, kg/t or h/t
	Price quantity.Quantity // money per what Use counts, as in USD/kWh
	Year  int               // of the price
}

// Bill is what a tonne costs, item by item, in money of one year. Make one with
// NewBill.
type Bill struct {
	year  int
	items []Item
	costs []quantity.Quantity // per mass, in money of the year
}

// NewBill is the unit cost of items in money of a year: use·price·index. Items
// priced in that year need no series: give the zero Series.
//
// Units: the product of use and price is money per mass; all items in one currency.
// The results are in the currency per t.
//
// Range: years of the series.
//
// Errors: no items; a use times a price that is no money per mass; another currency;
// an item of another year that the series does not hold.
//
// Source: common practice.
func NewBill(s Series, year int, items ...Item) (Bill, error) {
	if len(items) == 0 {
		return Bill{}, errors.New("cost: a bill needs at least one item")
	}
	b := Bill{year: year}
	for _, item := range items {
		cost := item.Use.Mul(item.Price)
		if item.Year != year {
			factor, err := s.Factor(item.Year, year)
			if err != nil {
				return Bill{}, fmt.Errorf("%s, priced in %d: %w", item.Name, item.Year, err)
			}
			cost = cost.Mul(factor)
		}
		if cost.Dimension() != quantity.Of(1, "USD/t").Dimension() {
			return Bill{}, fmt.Errorf("cost: %s: %v times %v is no money per mass", item.Name, item.Use, item.Price)
		}
		if cost = perTonne(cost); len(b.costs) > 0 && !cost.Unit().Compatible(b.costs[0].Unit()) {
			return Bill{}, fmt.Errorf("cost: %s is in another currency, %v, than the first item, %v", item.Name, cost, b.costs[0])
		}
		b.items, b.costs = append(b.items, item), append(b.costs, cost)
	}
	return b, nil
}

// perTonne shows money per mass per t, in its own currency.
func perTonne(cost quantity.Quantity) quantity.Quantity {
	money := cost.Mul(quantity.Of(1, "t"))
	return money.Div(quantity.Of(1, "t"))
}

// Total is the sum per t.
func (b Bill) Total() quantity.Quantity { return quantity.Sum(b.costs...) }

// Table is the bill.
func (b Bill) Table() table.Table {
	var names, uses, prices, years []string
	for _, item := range b.items {
		names, uses, prices = append(names, item.Name), append(uses, item.Use.String()), append(prices, item.Price.String())
		years = append(years, strconv.Itoa(item.Year))
	}
	names, uses, prices, years = append(names, "sum"), append(uses, ""), append(prices, ""), append(years, "")
	costs := append(append([]quantity.Quantity{}, b.costs...), b.Total())
	return tabled("Unit costs in money of "+strconv.Itoa(b.year), table.Texts("item", names), table.Texts("use", uses), table.Texts("price", prices),
		table.Texts("priced in", years), table.Quantities("cost", costs))
}

// String is Table as text.
func (b Bill) String() string { return b.Table().String() }

// HTML is Table as HTML.
func (b Bill) HTML() string { return b.Table().HTML() }

// Markdown is Table as Markdown.
func (b Bill) Markdown() string { return b.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (b Bill) LaTeX() string { return b.Table().LaTeX() }
