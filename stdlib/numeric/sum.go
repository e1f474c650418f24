package numeric

import "math"

// Sum adds numbers carrying the lost low digits along (Neumaier, Z. angew.
// Math. Mech. 54 (1974) 39), so that a closure of many small masses is not
// spoilt by the order in which they are added. The sum of nothing is 0.
func Sum(numbers ...float64) float64 {
	var sum, lost float64
	for _, x := range numbers {
		next := sum + x
		if math.Abs(sum) >= math.Abs(x) {
			lost += (sum - next) + x
		} else {
			lost += (x - next) + sum
		}
		sum = next
	}
	if math.IsInf(sum, 0) || math.IsNaN(sum) {
		return sum
	}
	return sum + lost
}

// AlmostEqual reports whether a and b differ by no more than the share
// relative of the larger one. Two zeros are equal; a NaN is equal to nothing.
func AlmostEqual(a, b, relative float64) bool {
	if a == b {
		return true
	}
	return math.Abs(a-b) <= relative*math.Max(math.Abs(a), math.Abs(b))
}
