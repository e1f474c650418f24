package cost

import (
	_ "embed"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

//go:embed prices.txt
var pricesText string

// Series is an index of costs by year. Make one with NewSeries or SeriesFrom.
type Series struct {
	name, source string
	years        []int
	values       []float64
}

// NewSeries is an index with one value for each year.
//
// Units: plain years and numbers, on any basis.
//
// Range: years may be missing; they are not made up.
//
// Errors: no years; unlike numbers of years and values; a year given twice; values
// that are not above 0; an empty source.
//
// Source: of the index, which is asked for.
func NewSeries(name, source string, years []int, values []float64) (Series, error) {
	if len(years) == 0 || len(years) != len(values) {
		return Series{}, fmt.Errorf("cost: series %q: %d years and %d values; one value for each year", name, len(years), len(values))
	}
	if strings.TrimSpace(source) == "" {
		return Series{}, fmt.Errorf("cost: series %q: say where its values come from", name)
	}
	order := make([]int, len(years))
	for k := range order {
		order[k] = k
	}
	slices.SortFunc(order, func(a, b int) int { return years[a] - years[b] })
	s := Series{name: name, source: source}
	for _, k := range order {
		if n := len(s.years); n > 0 && s.years[n-1] == years[k] {
			return Series{}, fmt.Errorf("cost: series %q: %d stands twice", name, years[k])
		}
		if !(values[k] > 0) || math.IsInf(values[k], 0) {
			return Series{}, fmt.Errorf("cost: series %q, %d: an index is above 0, and %g is not", name, years[k], values[k])
		}
		s.years, s.values = append(s.years, years[k]), append(s.values, values[k])
	}
	return s, nil
}

// SeriesFrom is the index in two columns of a table, as read from a file.
//
// Units: the columns hold plain numbers.
//
// Range: as NewSeries.
//
// Errors: no such columns; years that are not whole; as NewSeries.
//
// Source: as NewSeries.
func SeriesFrom(t table.Table, name, source, year, value string) (Series, error) {
	years, err := t.Column(year)
	if err != nil {
		return Series{}, err
	}
	values, err := t.Column(value)
	if err != nil {
		return Series{}, err
	}
	whole, numbers := make([]int, len(years)), make([]float64, len(values))
	for k := range years {
		y, err := years[k].Float()
		if err != nil || y != math.Trunc(y) {
			return Series{}, fmt.Errorf("cost: row %d: %v is no year", k+1, years[k])
		}
		if numbers[k], err = values[k].Float(); err != nil {
			return Series{}, fmt.Errorf("cost: row %d: %v is no plain number", k+1, values[k])
		}
		whole[k] = int(y)
	}
	return NewSeries(name, source, whole, numbers)
}

var consumerPrices = readPrices(pricesText)

func readPrices(text string) Series {
	var years []int
	var values []float64
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		before, after, _ := strings.Cut(strings.TrimSpace(line), " ")
		year, err := strconv.Atoi(before)
		if err != nil {
			panic("cost: embedded series: " + line)
		}
		value, err := strconv.ParseFloat(after, 64)
		if err != nil {
			panic("cost: embedded series: " + line)
		}
		years, values = append(years, year), append(values, value)
	}
	s, err := NewSeries("consumer prices in the United States, 1982-84 = 100",
		"U.S. Bureau of Labor Statistics, CPI-U, all items, series CUUR0000SA0, mean of months; public domain", years, values)
	if err != nil {
		panic(err.Error())
	}
	return s
}

// ConsumerPrices is the consumer price index of the United States, 1960 to 2024
// (Bureau of Labor Statistics, CPI-U, all items, mean of months). It says what money
// is worth, not what machines cost: where you have an index of plant costs, make a
// Series of it.
func ConsumerPrices() Series { return consumerPrices }

// Name is what the index is of, Source where it is from.
func (s Series) Name() string { return s.name }

// Source is where the values are from.
func (s Series) Source() string { return s.source }

// Years are the first and the last year.
func (s Series) Years() (first, last int) {
	if len(s.years) == 0 {
		return 0, 0
	}
	return s.years[0], s.years[len(s.years)-1]
}

// At is the index of a year.
//
// Units: a plain number.
//
// Range: years of the series.
//
// Errors: a year that the series does not hold; an empty series.
//
// Source: the series.
func (s Series) At(year int) (quantity.Quantity, error) {
	if len(s.years) == 0 {
		return quantity.Quantity{}, errors.New("cost: the series is empty; make one by NewSeries or SeriesFrom, or take ConsumerPrices")
	}
	at, ok := slices.BinarySearch(s.years, year)
	if !ok {
		first, last := s.Years()
		return quantity.Quantity{}, fmt.Errorf("cost: %s holds no %d; it runs from %d to %d", s.name, year, first, last)
	}
	return quantity.Number(s.values[at]), nil
}

// Factor is by what costs grew from one year to another: the quotient of the
// indices.
//
// Units: a plain number.
//
// Range: years of the series.
//
// Errors: as At.
//
// Source: the series.
func (s Series) Factor(from, to int) (quantity.Quantity, error) {
	before, err := s.At(from)
	if err != nil {
		return quantity.Quantity{}, err
	}
	after, err := s.At(to)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return after.Div(before), nil
}

// Declare makes the money of each year of the series a unit of its own, for the
// whole program: after Declare("USD") a cost of 1990 is written in USD_1990 and shown
// in USD_2020 by the ratio of the indices, and money of different years does not add
// up by mistake.
//
// Units: currency is the symbol of one.
//
// Range: the index of the country whose currency it is.
//
// Errors: what is no currency; a series of one year.
//
// Source: the series; quantity.DeclareIndex.
func (s Series) Declare(currency string) error {
	index := map[int]float64{}
	for k, year := range s.years {
		index[year] = s.values[k]
	}
	return quantity.DeclareIndex(currency, index)
}

// Table is the series.
func (s Series) Table() table.Table {
	years := make([]string, len(s.years))
	for k, year := range s.years {
		years[k] = strconv.Itoa(year)
	}
	return tabled(s.name+" ("+s.source+")", table.Texts("year", years), table.Numbers("index", s.values)).Limit(20)
}

// tabled is a table whose columns are of one length, which table.New accepts.
func tabled(caption string, columns ...table.Column) table.Table {
	made, err := table.New(columns...)
	if err != nil {
		panic("cost: " + err.Error())
	}
	return made.Caption(caption)
}

// String is Table as text.
func (s Series) String() string { return s.Table().String() }

// HTML is Table as HTML.
func (s Series) HTML() string { return s.Table().HTML() }

// Markdown is Table as Markdown.
func (s Series) Markdown() string { return s.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (s Series) LaTeX() string { return s.Table().LaTeX() }
