package slices

import (
	"cmp"
	"sort"

	"cobber/kernel/symbols/sorting"
)

// Sort puts x in ascending order, NaN first. Equal elements may change places.
func Sort[S ~[]E, E cmp.Ordered](x S) {
	// The commonest element types are sorted by compiled code throughout; the
	// order is the same.
	switch known := any([]E(x)).(type) {
	case []int:
		sort.Ints(known)
	case []float64:
		sort.Float64s(known)
	case []string:
		sort.Strings(known)
	default:
		sorting.Sort(len(x),
			func(i, j int) bool { return cmp.Less(x[i], x[j]) },
			func(i, j int) { x[i], x[j] = x[j], x[i] })
	}
}

// SortFunc puts x in the order of cmp, which is negative where a comes before
// b. Equal elements may change places.
func SortFunc[S ~[]E, E any](x S, cmp func(a, b E) int) {
	sorting.Sort(len(x),
		func(i, j int) bool { return cmp(x[i], x[j]) < 0 },
		func(i, j int) { x[i], x[j] = x[j], x[i] })
}

// SortStableFunc is SortFunc that keeps the order of equal elements.
func SortStableFunc[S ~[]E, E any](x S, cmp func(a, b E) int) {
	sorting.Stable(len(x),
		func(i, j int) bool { return cmp(x[i], x[j]) < 0 },
		func(i, j int) { x[i], x[j] = x[j], x[i] })
}

// IsSorted reports whether x is in ascending order.
func IsSorted[S ~[]E, E cmp.Ordered](x S) bool {
	for i := len(x) - 1; i > 0; i-- {
		if cmp.Less(x[i], x[i-1]) {
			return false
		}
	}
	return true
}

// IsSortedFunc reports whether x is in the order of cmp.
func IsSortedFunc[S ~[]E, E any](x S, cmp func(a, b E) int) bool {
	for i := len(x) - 1; i > 0; i-- {
		if cmp(x[i], x[i-1]) < 0 {
			return false
		}
	}
	return true
}

// BinarySearch is the first place in the sorted x where target is, or could be
// put in, and whether it is there.
func BinarySearch[S ~[]E, E cmp.Ordered](x S, target E) (int, bool) {
	return BinarySearchFunc(x, target, cmp.Compare[E])
}

// BinarySearchFunc is BinarySearch in the order of cmp.
func BinarySearchFunc[S ~[]E, E, T any](x S, target T, cmp func(E, T) int) (int, bool) {
	low, high := 0, len(x)
	for low < high {
		middle := int(uint(low+high) / 2) // the sum may not fit an int
		if cmp(x[middle], target) < 0 {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low, low < len(x) && cmp(x[low], target) == 0
}
