package balance

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/table"
)

// SizeBalance is the balance of a two-product separation size class by size
// class. Make one with BySize. All slices run as the classes of the size
// distributions do: coarsest first, the pan last.
type SizeBalance struct {
	concentrate, tailing size.Distribution
	assay                string
	rows                 []sizeRow
}

// sizeRow is one class, per mass of feed.
type sizeRow struct {
	concentrate, tailing           float64 // mass
	concentrateMetal, tailingMetal float64
}

func (r sizeRow) mass() float64  { return r.concentrate + r.tailing }
func (r sizeRow) metal() float64 { return r.concentrateMetal + r.tailingMetal }

// BySize is the balance by size of a separation whose two products were sieved
// and assayed by size. The feed by size is not measured but calculated: the sum
// of the products, weighed by the yield Y,
//
//	feed i = Y·concentrate i + (1 − Y)·tailing i
//
// for the mass and for the metal of each class i.
//
// Units: the distributions hold masses and the grades named assay; yield is the
// share of the feed that became concentrate, as in %.
//
// Range: yield between 0 and 100 %. Particles must not break between the
// products and the sieves.
//
// Errors: distributions on unlike sieves or without that assay, a yield with a
// dimension or outside the range, no metal in any class.
//
// Source: the two mass balances F = C + T and F·f = C·c + T·t in each class.
func BySize(concentrate, tailing size.Distribution, assay string, yield quantity.Quantity) (SizeBalance, error) {
	share, err := yield.Float()
	if err != nil || !(share > 0 && share < 1) {
		return SizeBalance{}, fmt.Errorf("balance: the yield is a share between 0 and 100 %%, and %v is not", yield)
	}
	if err := sameSieves(concentrate, tailing); err != nil {
		return SizeBalance{}, err
	}
	b := SizeBalance{concentrate: concentrate, tailing: tailing, assay: assay, rows: make([]sizeRow, len(concentrate.Masses()))}
	for i, row := range b.rows {
		row.concentrate = share * fraction(concentrate.Shares()[i])
		row.tailing = (1 - share) * fraction(tailing.Shares()[i])
		b.rows[i] = row
	}
	if err := b.addMetal(share); err != nil {
		return SizeBalance{}, err
	}
	return b, nil
}

func sameSieves(concentrate, tailing size.Distribution) error {
	first, second := concentrate.Openings(), tailing.Openings()
	if len(first) != len(second) {
		return fmt.Errorf("balance: the concentrate was sieved on %d sieves, the tailing on %d; the balance by size needs the same", len(first), len(second))
	}
	for i := range first {
		if !numeric.AlmostEqual(metres(first[i]), metres(second[i]), 1e-9) {
			return fmt.Errorf("balance: sieve %d is %v for the concentrate and %v for the tailing; the balance by size needs the same", i+1, first[i], second[i])
		}
	}
	return nil
}

func (b SizeBalance) addMetal(yield float64) error {
	inConcentrate, err := b.concentrate.Grades(b.assay)
	if err != nil {
		return fmt.Errorf("balance: concentrate: %w", err)
	}
	inTailing, err := b.tailing.Grades(b.assay)
	if err != nil {
		return fmt.Errorf("balance: tailing: %w", err)
	}
	for i := range b.rows {
		row := &b.rows[i]
		row.concentrateMetal = metal(row.concentrate, inConcentrate[i])
		row.tailingMetal = metal(row.tailing, inTailing[i])
	}
	if b.total(sizeRow.metal) == 0 {
		return fmt.Errorf("balance: there is no %s in any class of either product", b.assay)
	}
	return nil
}

// metal is 0 where there is no mass: such a class may lack a grade.
func metal(mass float64, grade quantity.Quantity) float64 {
	if mass == 0 {
		return 0
	}
	return mass * fraction(grade)
}

// fraction and metres read what a size distribution gives out: it has refused
// all but shares and lengths, so anything else is a fault of this library.
func fraction(share quantity.Quantity) float64 {
	x, err := share.Float()
	if err != nil {
		panic("balance: " + err.Error())
	}
	return x
}

func metres(opening quantity.Quantity) float64 {
	x, err := opening.Value("m")
	if err != nil {
		panic("balance: " + err.Error())
	}
	return x
}

func (b SizeBalance) total(of func(sizeRow) float64) float64 {
	numbers := make([]float64, len(b.rows))
	for i, row := range b.rows {
		numbers[i] = of(row)
	}
	return numeric.Sum(numbers...)
}

func (b SizeBalance) shares(of func(sizeRow) float64) []quantity.Quantity {
	shares := make([]quantity.Quantity, len(b.rows))
	for i, row := range b.rows {
		shares[i] = percent(of(row))
	}
	return shares
}

// ratio is not a number where there is nothing to divide.
func ratio(part, whole float64) float64 {
	if whole == 0 {
		return math.NaN()
	}
	return part / whole
}

// Classes are the names of the size classes.
func (b SizeBalance) Classes() []string { return b.concentrate.Classes() }

// MeanSizes are the geometric mean sizes of the classes, as
// size.Distribution.MeanSizes gives them: not a number for the first and last.
func (b SizeBalance) MeanSizes() []quantity.Quantity { return b.concentrate.MeanSizes() }

// FeedShares are the mass shares of the calculated feed in each class, in %.
func (b SizeBalance) FeedShares() []quantity.Quantity { return b.shares(sizeRow.mass) }

// FeedGrades are the grades of the calculated feed in each class, in %; not a
// number where a class is empty.
func (b SizeBalance) FeedGrades() []quantity.Quantity {
	return b.shares(func(r sizeRow) float64 { return ratio(r.metal(), r.mass()) })
}

// FeedMetal is the metal of the calculated feed in each class, as a share of
// all of it, in %.
func (b SizeBalance) FeedMetal() []quantity.Quantity {
	total := b.total(sizeRow.metal)
	return b.shares(func(r sizeRow) float64 { return r.metal() / total })
}

// Yields are the shares of each class's mass that reached the concentrate, in
// %; not a number where a class is empty.
func (b SizeBalance) Yields() []quantity.Quantity {
	return b.shares(func(r sizeRow) float64 { return ratio(r.concentrate, r.mass()) })
}

// Recoveries are the shares of each class's metal that reached the concentrate,
// in %; not a number where a class holds no metal.
func (b SizeBalance) Recoveries() []quantity.Quantity {
	return b.shares(func(r sizeRow) float64 { return ratio(r.concentrateMetal, r.metal()) })
}

// Recovery is the share of all the metal that reached the concentrate, in %:
// the recoveries of the classes, weighed by their metal.
func (b SizeBalance) Recovery() quantity.Quantity {
	return percent(b.total(func(r sizeRow) float64 { return r.concentrateMetal }) / b.total(sizeRow.metal))
}

// FeedGrade is the grade of the calculated feed, in %. It equals the measured
// one if the yield came from the two-product formula with the grades of the
// same two distributions.
func (b SizeBalance) FeedGrade() quantity.Quantity {
	return percent(b.total(sizeRow.metal) / b.total(sizeRow.mass))
}

// Table is the balance as a table: for each class the calculated feed's share,
// grade and metal, and what reached the concentrate; all classes in a last row.
func (b SizeBalance) Table() table.Table {
	all := func(rows []quantity.Quantity, total quantity.Quantity) []quantity.Quantity {
		return append(rows, total)
	}
	yield := b.total(func(r sizeRow) float64 { return r.concentrate }) / b.total(sizeRow.mass)
	t, err := table.New(
		table.Texts("class", append(b.Classes(), "all")),
		table.Quantities("feed", all(b.FeedShares(), percent(1))),
		table.Quantities("feed "+b.assay, all(b.FeedGrades(), b.FeedGrade())),
		table.Quantities(b.assay+" in feed", all(b.FeedMetal(), percent(1))),
		table.Quantities("yield", all(b.Yields(), percent(yield))),
		table.Quantities("recovery of "+b.assay, all(b.Recoveries(), b.Recovery())),
	)
	if err != nil {
		panic("balance: " + err.Error()) // the columns are built alike, and their names differ
	}
	return t.Caption("Calculated feed and recovery by size")
}

// String is Table as text.
func (b SizeBalance) String() string { return b.Table().String() }

// HTML is Table as HTML.
func (b SizeBalance) HTML() string { return b.Table().HTML() }

// Markdown is Table as Markdown.
func (b SizeBalance) Markdown() string { return b.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (b SizeBalance) LaTeX() string { return b.Table().LaTeX() }
