package stream

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// RecoveryBySize is the share of a component of the feed that a product holds, in
// each size class; for "solids" it is the partition number of the size.
//
// Units: in %, one for each size class, coarse to fine.
//
// Range: from 0 to 100 % where the product comes from that feed and no particle
// changed its size; not a number where the feed's class holds none of it.
//
// Errors: streams on different classes; a text that names no component; water,
// which has no size.
//
// Source: the definition of recovery by size; common practice.
func RecoveryBySize(product, feed Stream, what string) ([]quantity.Quantity, error) {
	if err := product.sameClasses(feed); err != nil {
		return nil, err
	}
	content := make([]float64, feed.classes.Particles())
	for j := range content {
		content[j] = 1
	}
	if what != "solids" {
		var err error
		if content, err = feed.classes.contentOf(what); err != nil {
			return nil, err
		}
	}
	in, out := feed.bySize(content), product.bySize(content)
	shares := make([]quantity.Quantity, len(in))
	for i := range shares {
		shares[i] = quantity.Of(100*ratio(out[i], in[i]), "%")
	}
	return shares, nil
}

// RecoveryByClass is the share of each class of the feed that a product holds: the
// partition numbers of a separation.
//
// Units: plain numbers, a row for each size class with one number for each
// particle class.
//
// Range: from 0 to 1 where the product comes from that feed and no particle
// changed its class; not a number where the feed's class is empty.
//
// Errors: streams on different classes.
//
// Source: the definition of a partition number; common practice.
func RecoveryByClass(product, feed Stream) ([][]float64, error) {
	if err := product.sameClasses(feed); err != nil {
		return nil, err
	}
	rows := feed.Flows()
	for i, row := range rows {
		for j, flow := range row {
			row[j] = ratio(product.Flow(i, j), flow)
		}
	}
	return rows, nil
}

// ratio is a part of a whole, and not a number where the whole is empty.
func ratio(part, whole float64) float64 {
	if whole == 0 {
		return math.NaN()
	}
	return part / whole
}

// Distribution is how a component is spread over the classes of the stream.
//
// Units: shares of the component's rate as plain numbers, a row for each size
// class with one number for each particle class; they add up to 1.
//
// Range: a mineral, element or oxide, or "solids".
//
// Errors: a text that names none of these; a stream that holds none of it.
//
// Source: the mass balance over the classes.
func (s Stream) Distribution(what string) ([][]float64, error) {
	whole, err := s.amount(what)
	if err != nil {
		return nil, err
	}
	if what == "water" || whole == 0 {
		return nil, fmt.Errorf("stream: %s: there is no %s in the solids, so it is not spread over their classes", s.name, what)
	}
	rows := s.Flows()
	for i := range rows {
		for j := range rows[i] {
			content := 1.0
			if what != "solids" {
				known, err := s.classes.contentOf(what)
				if err != nil {
					return nil, err
				}
				content = known[j]
			}
			rows[i][j] *= content / whole
		}
	}
	return rows, nil
}

// DistributionTable is Distribution as a table, in %, with sums.
//
// Units: in %; a row for each size class and one for all, a column for each
// particle class and one for all.
//
// Range: as Distribution.
//
// Errors: as Distribution.
//
// Source: the mass balance over the classes.
func (s Stream) DistributionTable(what string) (table.Table, error) {
	rows, err := s.Distribution(what)
	if err != nil {
		return table.Table{}, err
	}
	sizes := make([]string, 0, len(rows)+1)
	for i := range rows {
		sizes = append(sizes, s.classes.Size(i))
	}
	columns := []table.Column{table.Texts("size", append(sizes, "all"))}
	sums := make([]float64, len(rows)+1)
	for j, p := range s.classes.particles {
		var column []quantity.Quantity
		var all float64
		for i := range rows {
			column = append(column, quantity.Of(100*rows[i][j], "%"))
			sums[i] += rows[i][j]
			all += rows[i][j]
		}
		sums[len(rows)] += all
		columns = append(columns, table.Quantities(p.Name, append(column, quantity.Of(100*all, "%"))))
	}
	var last []quantity.Quantity
	for _, sum := range sums {
		last = append(last, quantity.Of(100*sum, "%"))
	}
	t, err := table.New(append(columns, table.Quantities("all particles", last))...)
	return t.Caption(s.name + ": where the " + what + " is"), err
}

// Account is the metallurgical balance of a feed and its products: a row for
// each product, for their sum and for the feed, with yield, and with grade and
// recovery of each component asked for.
//
// Units: rates in the unit of the feed, the rest in %.
//
// Range: any streams; the last rows tell whether the products add up to the feed.
//
// Errors: no product; a text that names no component; a feed without solids or
// without the component.
//
// Source: the metallurgical balance of plant reports; common practice.
func Account(feed Stream, products []Stream, components ...string) (table.Table, error) {
	if len(products) == 0 {
		return table.Table{}, errors.New("stream: an account needs at least one product")
	}
	if err := feed.hasSolids("account"); err != nil {
		return table.Table{}, err
	}
	rows := append([]Stream(nil), products...)
	names := make([]string, 0, len(products)+2)
	for _, p := range products {
		names = append(names, p.name)
	}
	if sum, err := Mix("sum of products", products...); err == nil && len(products) > 1 {
		rows, names = append(rows, sum), append(names, sum.name)
	}
	rows, names = append(rows, feed), append(names, feed.name)
	columns := []table.Column{table.Texts("stream", names)}
	columns = append(columns, rates("solids", rows, feed, Stream.solids))
	for _, s := range rows {
		if s.water > 0 {
			columns = append(columns, rates("water", rows, feed, Stream.WaterFlow), solidsShares(rows))
			break
		}
	}
	columns = append(columns, recoveries("yield", rows, feed.solids(), Stream.solids))
	for _, what := range components {
		whole, err := feed.amount(what)
		if err != nil {
			return table.Table{}, err
		}
		if whole == 0 {
			return table.Table{}, fmt.Errorf("stream: %s: the feed holds no %s, so there is no recovery of it", feed.name, what)
		}
		amount := func(s Stream) float64 { // the feed has shown that the name is known
			flow, err := s.amount(what)
			if err != nil {
				return math.NaN()
			}
			return flow
		}
		columns = append(columns, grades(what, rows, amount), recoveries("recovery of "+what, rows, whole, amount))
	}
	return table.New(columns...)
}

func rates(name string, rows []Stream, feed Stream, of func(Stream) float64) table.Column {
	values := make([]quantity.Quantity, len(rows))
	for i, s := range rows {
		values[i] = feed.rate(of(s))
	}
	return table.Quantities(name, values)
}

func recoveries(name string, rows []Stream, whole float64, of func(Stream) float64) table.Column {
	values := make([]quantity.Quantity, len(rows))
	for i, s := range rows {
		values[i] = quantity.Of(100*of(s)/whole, "%")
	}
	return table.Quantities(name, values)
}

func grades(name string, rows []Stream, of func(Stream) float64) table.Column {
	values := make([]quantity.Quantity, len(rows))
	for i, s := range rows {
		values[i] = quantity.Of(100*ratio(of(s), s.solids()), "%")
	}
	return table.Quantities(name, values)
}

func solidsShares(rows []Stream) table.Column {
	values := make([]quantity.Quantity, len(rows))
	for i, s := range rows {
		solids := s.solids()
		values[i] = quantity.Of(100*ratio(solids, solids+s.water), "wt%")
	}
	return table.Quantities("per cent solids", values)
}
