package quantity

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
)

// DeclareIndex declares the money of each year of a price index as a unit, for
// the whole program: with "USD" and an index for 1990 and 2020 there are USD_1990
// and USD_2020, and a cost in the one is shown in the other by the ratio of the
// index, as Of(1200, "USD_1990").To("USD_2020"). Money without a year does not mix
// with them. The index may be of consumer prices, of plant or of equipment;
// only ratios count. A rate between two currencies is declared by Declare, or is a
// quantity such as 1.08 USD/EUR to multiply by, which may be uncertain.
//
// The error is for what is no currency, for fewer than two years, for a year that
// has not four digits, and for an index that is not above zero.
func DeclareIndex(currency string, index map[int]float64) error {
	u, err := ParseUnit(currency)
	if err != nil {
		return fmt.Errorf("DeclareIndex: %w", err)
	}
	if u.Dimension() != baseDimension(money) || u.Symbol() != currency || u.real().terms[0].atom.prefix != "" {
		return fmt.Errorf("DeclareIndex: %q is not the symbol of a currency, such as USD", currency)
	}
	years := slices.Sorted(maps.Keys(index))
	if len(years) < 2 {
		return fmt.Errorf("DeclareIndex: %d years of %s; give the index for two or more", len(years), currency)
	}
	for _, year := range years {
		if x := index[year]; year < 1000 || year > 9999 || !(x > 0) || math.IsInf(x, 0) {
			return fmt.Errorf("DeclareIndex: %g for %d; give an index above zero for years of four digits", x, year)
		}
	}
	last := years[len(years)-1]
	base := currency + "_" + strconv.Itoa(last)
	if err := Declare(base, "currency"); err != nil {
		return fmt.Errorf("DeclareIndex: %w", err)
	}
	for _, year := range years[:len(years)-1] {
		rate := strconv.FormatFloat(index[last]/index[year], 'g', -1, 64)
		if err := Declare(currency+"_"+strconv.Itoa(year), rate+" "+base); err != nil {
			return fmt.Errorf("DeclareIndex: %w", err)
		}
	}
	return nil
}
