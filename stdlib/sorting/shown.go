package sorting

import "cobber/stdlib/internal/fields"

// String is what is stated of the sorter.
func (s Sorter) String() string { return "sorter of pieces\n" + fields.Stated(s) }
