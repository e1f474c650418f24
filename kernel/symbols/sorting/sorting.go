// Package sorting lends Go's own sorting to the sources of kernel/symbols.
//
// It knows nothing of what is sorted: only how many elements there are, and
// how to compare and exchange two of them. So no value of a session passes
// through it, and the order of equal elements is the one that Go gives.
package sorting

import "sort"

type elements struct {
	count int
	less  func(i, j int) bool
	swap  func(i, j int)
}

func (e elements) Len() int           { return e.count }
func (e elements) Less(i, j int) bool { return e.less(i, j) }
func (e elements) Swap(i, j int)      { e.swap(i, j) }

// Sort puts count elements in order by exchanges, as sort.Sort does.
func Sort(count int, less func(i, j int) bool, swap func(i, j int)) {
	sort.Sort(elements{count, less, swap})
}

// Stable is Sort that keeps the order of equal elements.
func Stable(count int, less func(i, j int) bool, swap func(i, j int)) {
	sort.Stable(elements{count, less, swap})
}
