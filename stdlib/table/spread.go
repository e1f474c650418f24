package table

import (
	"fmt"

	"cobber/stdlib/quantity"
)

// Uncertain is the quantities of a column with the standard deviations of the column
// "± name", as WriteFile writes them: each is normal and independent of the others,
// and certain where its deviation is 0 or missing. Deviations are of the values' own
// kind, or in % of values that have a dimension. Beside shares, such as g/t, they must
// be in the same unit: 10 % beside 50 g/t could mean either.
//
// Errors: there is no such column, or none of deviations; a deviation below 0, of
// another dimension, or in another unit beside shares, with its row.
func (t Table) Uncertain(name string) ([]quantity.Quantity, error) {
	values, err := t.Column(name)
	if err != nil {
		return nil, err
	}
	deviations, err := t.Column("± " + name)
	if err != nil {
		return nil, err
	}
	for i, value := range values {
		deviation := deviations[i]
		if value.IsNaN() || deviation.IsNaN() || deviation.IsNothing() || deviation.Shown() == 0 {
			continue
		}
		unit := value.Unit().String()
		if value.Dimension().IsOne() && deviation.Unit().String() != unit {
			return nil, fmt.Errorf("table: column %q, row %d: beside shares a deviation must be in their own unit, %s, and %v is not", "± "+name, i+1, unit, deviation)
		}
		if share, err := deviation.Float(); err == nil && !value.Dimension().IsOne() {
			deviation = value.Abs().Mul(quantity.Number(share))
		}
		if values[i], err = quantity.Normal(value, deviation); err != nil {
			return nil, fmt.Errorf("table: column %q, row %d: %w", name, i+1, err)
		}
		values[i] = values[i].Named(fmt.Sprintf("%s, row %d", name, i+1))
	}
	return values, nil
}
