package gravity

import "cobber/stdlib/internal/fields"

// String is what is stated of the separator.
func (s Separator) String() string { return "separator by density\n" + fields.Stated(s) }
