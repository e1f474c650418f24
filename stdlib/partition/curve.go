package partition

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/table"
)

// Curve is a measured partition curve: for each size or density the share that
// went to the coarse or heavy product. Make one with New or BySize. It is not
// changed by its methods.
//
// Between its points a curve over sizes is straight against the logarithm of
// size, one over densities straight against density.
type Curve struct {
	unit   quantity.Unit
	xs     []float64 // rising, in unit
	shares []float64
	sizes  bool
}

// New is the partition curve through measured points.
//
// Units: at are sizes (lengths) or densities; shares, one for each, are shares
// of the class that went to the coarse or heavy product, as in %. Uncertain ones
// count with their means.
//
// Range: two points or more, rising or falling throughout. Measured shares may
// rise and fall; CheckRising tells.
//
// Errors: lengths that differ, points that are neither lengths nor densities,
// not above 0, or out of order; a share outside 0 to 100 % or with a dimension.
//
// Source: the definition of the partition (Tromp) curve, K.F. Tromp, Glückauf
// 73 (1937) 125 (reference from memory).
func New(at, shares []quantity.Quantity) (Curve, error) {
	if len(at) != len(shares) || len(at) < 2 {
		return Curve{}, fmt.Errorf("partition: a curve needs two points at least, each with its share; there are %d points and %d shares", len(at), len(shares))
	}
	c := Curve{unit: at[0].Unit()}
	for i := range at {
		x, sizes, err := position(at[i])
		if err != nil {
			return Curve{}, fmt.Errorf("partition: point %d: %w", i+1, err)
		}
		if i > 0 && sizes != c.sizes {
			return Curve{}, fmt.Errorf("partition: point %d: %v and %v are not of one kind", i+1, at[0], at[i])
		}
		c.sizes = sizes
		if x, err = at[i].Value(c.unit.String()); err != nil {
			return Curve{}, fmt.Errorf("partition: point %d: %w", i+1, err)
		}
		share, err := shareOf(shares[i])
		if err != nil {
			return Curve{}, fmt.Errorf("partition: point %d, %v: %w", i+1, at[i], err)
		}
		c.xs, c.shares = append(c.xs, x), append(c.shares, share)
	}
	if c.xs[0] > c.xs[1] {
		slices.Reverse(c.xs)
		slices.Reverse(c.shares)
	}
	for i := 1; i < len(c.xs); i++ {
		if !(c.xs[i] > c.xs[i-1]) {
			return Curve{}, fmt.Errorf("partition: the points rise or fall throughout, and %v beside %v do not", c.quantity(c.xs[i-1]), c.quantity(c.xs[i]))
		}
	}
	return c, nil
}

// position reads a size in m or a density in kg/m³.
func position(at quantity.Quantity) (x float64, sizes bool, err error) {
	x, err = at.Value("m")
	if sizes = err == nil; !sizes {
		x, err = at.Value("kg/m³")
	}
	if err != nil {
		return 0, false, fmt.Errorf("a partition is over sizes or densities, and %v is neither", at)
	}
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, false, fmt.Errorf("a size or density is above 0, and %v is not", at)
	}
	return x, sizes, nil
}

func shareOf(share quantity.Quantity) (float64, error) {
	x, err := share.Float()
	if err != nil || !(x >= 0 && x <= 1) {
		return 0, fmt.Errorf("a share lies between 0 and 100 %%, and %v does not; write a percentage with its unit", share)
	}
	return x, nil
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

func percents(shares []float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(shares))
	for i, share := range shares {
		all[i] = percent(share)
	}
	return all
}

func (c Curve) quantity(x float64) quantity.Quantity { return c.unit.Quantity(x) }

// BySize is the partition curve of a classification or screening whose two
// products were sieved. With the share Y of the feed that became the coarse
// product, class i has
//
//	share i = Y·coarse i / (Y·coarse i + (1 − Y)·fine i)
//
// at its geometric mean size.
//
// Units: the distributions hold masses; yield is a share of mass, as in %.
//
// Range: yield between 0 and 100 %. The classes above the coarsest sieve and in
// the pan have no mean size, and a class empty in both products has no share:
// they are left out.
//
// Errors: distributions on unlike sieves, a yield outside the range, fewer than
// two classes left.
//
// Source: mass balance of each class.
func BySize(coarse, fine size.Distribution, yield quantity.Quantity) (Curve, error) {
	y, err := yield.Float()
	if err != nil || !(y > 0 && y < 1) {
		return Curve{}, fmt.Errorf("partition: the yield is a share between 0 and 100 %%, and %v is not", yield)
	}
	if err := sameSieves(coarse, fine); err != nil {
		return Curve{}, err
	}
	var at, shares []quantity.Quantity
	fines := fine.Shares()
	means := coarse.MeanSizes()
	for i, share := range coarse.Shares() {
		up, down := y*fraction(share), (1-y)*fraction(fines[i])
		if means[i].IsNaN() || up+down == 0 {
			continue
		}
		at, shares = append(at, means[i]), append(shares, percent(up/(up+down)))
	}
	return New(at, shares)
}

func sameSieves(coarse, fine size.Distribution) error {
	a, b := coarse.Openings(), fine.Openings()
	if len(a) != len(b) {
		return fmt.Errorf("partition: the coarse product was sieved on %d sieves, the fine one on %d; the partition needs the same", len(a), len(b))
	}
	for i := range a {
		if !numeric.AlmostEqual(a[i].SI(), b[i].SI(), 1e-9) {
			return fmt.Errorf("partition: sieve %d is %v for the coarse product and %v for the fine one; the partition needs the same", i+1, a[i], b[i])
		}
	}
	return nil
}

// fraction reads a share that this library has made, so that anything else is
// its own fault.
func fraction(share quantity.Quantity) float64 {
	x, err := share.Float()
	if err != nil {
		panic("partition: " + err.Error())
	}
	return x
}

// Points are the sizes or densities of the curve, rising.
func (c Curve) Points() []quantity.Quantity {
	points := make([]quantity.Quantity, len(c.xs))
	for i, x := range c.xs {
		points[i] = c.quantity(x)
	}
	return points
}

// Shares are the shares at Points, in %.
func (c Curve) Shares() []quantity.Quantity { return percents(c.shares) }

// Least is the smallest share of the curve, in %. At its fine end it is often
// taken for the bypass: what goes to the coarse product unclassified.
func (c Curve) Least() quantity.Quantity { return percent(slices.Min(c.shares)) }

// CheckRising is nil if no share is lower than that of a finer or lighter
// class, beyond a tolerance you state.
//
// Units: tolerance is a share, as in 0.5 %.
//
// Range: tolerance from 0 to 100 %.
//
// Errors: the curve falls by more than the tolerance, and where; a tolerance
// outside its range.
//
// Source: a partition by size or density alone rises; common practice. Curves of
// cyclones may fall at the fine end, the fish-hook.
func (c Curve) CheckRising(tolerance quantity.Quantity) error {
	allowed, err := shareOf(tolerance)
	if err != nil {
		return fmt.Errorf("partition: the tolerance: %w", err)
	}
	highest, at := c.shares[0], 0
	for i, share := range c.shares {
		if share < highest-allowed {
			return fmt.Errorf("partition: the curve falls from %.4g %% at %v to %.4g %% at %v; look at these classes",
				100*highest, c.quantity(c.xs[at]), 100*share, c.quantity(c.xs[i]))
		}
		if share > highest {
			highest, at = share, i
		}
	}
	return nil
}

// Corrected is the curve without its bypass b, the share of every class that
// goes to the coarse product unclassified:
//
//	corrected = (share − b)/(1 − b)
//
// Its cut is the corrected d50.
//
// Units: bypass is a share, as in %; for hydrocyclones often the share of the
// water that goes to the underflow.
//
// Range: bypass from 0 to below 100 %.
//
// Errors: a bypass outside the range, or above a share of the curve, which would
// become less than nothing: Least is the most that can be taken off.
//
// Source: D.F. Kelsall, Trans. Instn Chem. Engrs 31 (1953) 87 (reference from
// memory).
func (c Curve) Corrected(bypass quantity.Quantity) (Curve, error) {
	b, err := shareOf(bypass)
	if err != nil || b == 1 {
		return Curve{}, fmt.Errorf("partition: the bypass is a share below 100 %%, and %v is not", bypass)
	}
	corrected := make([]float64, len(c.shares))
	for i, share := range c.shares {
		if share < b && !numeric.AlmostEqual(share, b, 1e-12) {
			return Curve{}, fmt.Errorf("partition: only %.4g %% goes to the coarse product at %v, less than the bypass of %v; the least share is %v",
				100*share, c.quantity(c.xs[i]), bypass, c.Least())
		}
		corrected[i] = max(0, (share-b)/(1-b))
	}
	c.shares = corrected
	return c, nil
}

// Table is the curve as a table.
func (c Curve) Table() table.Table {
	name := "density"
	if c.sizes {
		name = "size"
	}
	t, err := table.New(table.Quantities(name, c.Points()), table.Quantities("share", c.Shares()))
	if err != nil {
		panic("partition: " + err.Error()) // New has refused all that could lead here
	}
	return t.Caption("Share to the coarse or heavy product")
}

// String is Table as text.
func (c Curve) String() string { return c.Table().String() }

// HTML is Table as HTML.
func (c Curve) HTML() string { return c.Table().HTML() }

// Markdown is Table as Markdown.
func (c Curve) Markdown() string { return c.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (c Curve) LaTeX() string { return c.Table().LaTeX() }
