package quantity

import "math"

// alike is how close two values in different units must be, relatively, to be
// taken as equal: each of them carries two roundings of its conversion and one
// of the number as typed.
const alike = 8.0 / (1 << 53)

// Compare is -1 if q is less than r, 1 if it is greater, and 0 if the two are
// equal; 1 t equals 1000 kg. Not-a-number is less than any number and equal to
// itself, so that sorting works. It panics with a *DimensionError if the two do
// not measure the same.
func (q Quantity) Compare(r Quantity) int {
	a, b := q.compared(r)
	switch {
	case a < b || a != a && b == b:
		return -1
	case a > b || b != b && a == a:
		return 1
	}
	return 0
}

// Less reports whether q is less than r; false if one is not a number. It
// panics with a *DimensionError if the two do not measure the same.
func (q Quantity) Less(r Quantity) bool {
	a, b := q.compared(r)
	return a < b
}

// Equal reports whether q and r are equal; false if one is not a number. In one
// unit the values must be the same; in two they may differ by the rounding of
// the conversion, some 1e-15 of the value. It panics with a *DimensionError if
// the two do not measure the same.
func (q Quantity) Equal(r Quantity) bool {
	a, b := q.compared(r)
	return a == b
}

// compared gives two numbers that stand to each other as q and r do.
func (q Quantity) compared(r Quantity) (a, b float64) {
	if q.unit == r.unit {
		return q.val(), r.val()
	}
	if q.unit == nil || r.unit == nil {
		if q.Unit().IsReading() || r.Unit().IsReading() {
			panic(&DimensionError{"compare", q, r, readingZero})
		}
		return q.val(), r.val()
	}
	if k := conversions.find(q.unit, r.unit); k.refused {
		panic(&DimensionError{"compare", q, r, k.reason})
	}
	a, b = q.SI(), r.SI()
	if a != b && math.Abs(a-b) <= alike*max(math.Abs(a), math.Abs(b)) {
		return a, a
	}
	return a, b
}

// Max is the greatest of the quantities, as it came; not-a-number if one is. It
// panics with a *DimensionError if they do not measure the same.
// Where one is uncertain, so is the result: the greatest of each sample.
func Max(first Quantity, rest ...Quantity) Quantity { return extreme(1, first, rest) }

// Min is the least of the quantities, as it came; not-a-number if one is. It
// panics with a *DimensionError if they do not measure the same.
// Where one is uncertain, so is the result: the least of each sample.
func Min(first Quantity, rest ...Quantity) Quantity { return extreme(-1, first, rest) }

func extreme(sign int, best Quantity, rest []Quantity) Quantity {
	for _, q := range rest {
		if q.cloud != nil || best.cloud != nil {
			q.compared(best) // refuses what does not measure the same
			best = greater(best, q, float64(sign))
			continue
		}
		order := q.Compare(best)
		if q.IsNaN() || !best.IsNaN() && order == sign {
			best = q
		}
	}
	return best
}
