package flowsheet

import (
	"fmt"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Energy is the power of a plant, unit by unit. Result.Energy makes it.
type Energy struct {
	names  []string
	powers []quantity.Quantity // nothing where the unit states none
	feed   quantity.Quantity   // rate of solids fed
	plant  string
}

// Energy asks every unit for the power it draws on what it gets. Units that state
// none are listed as such: the sum is that of the others.
//
// Units: powers in kW.
//
// Range: shaft or electrical power as the units state it; nothing is added for
// motors, pumps, belts or light.
//
// Errors: what a unit refuses, with its name.
//
// Source: the units.
func (r *Result) Energy() (Energy, error) {
	e := Energy{feed: r.Feed().Solids(), plant: r.sheet.name}
	for u, step := range r.sheet.steps {
		e.names = append(e.names, step.Name)
		powered, ok := step.Unit.(Powered)
		if !ok {
			e.powers = append(e.powers, quantity.Quantity{})
			continue
		}
		feed, err := r.feedOf(u)
		if err != nil {
			return Energy{}, err
		}
		power, err := powered.Power(feed)
		if err == nil {
			power, err = power.In("kW")
		}
		if err != nil {
			return Energy{}, fmt.Errorf("flowsheet: power of %s: %w", step.Name, err)
		}
		e.powers = append(e.powers, power)
	}
	return e, nil
}

// Total is the power of all units that state one, in kW.
func (e Energy) Total() quantity.Quantity {
	sum := quantity.Of(0, "kW")
	for _, power := range e.powers {
		sum = sum.Add(power)
	}
	return sum
}

// Silent are the units that state no power.
func (e Energy) Silent() []string {
	var names []string
	for k, power := range e.powers {
		if power.IsNothing() {
			names = append(names, e.names[k])
		}
	}
	return names
}

// Of is the power of one unit.
//
// Units: in kW.
//
// Range: units that state one.
//
// Errors: no such unit; a unit that states no power.
//
// Source: the unit.
func (e Energy) Of(unit string) (quantity.Quantity, error) {
	for k, name := range e.names {
		if name != unit {
			continue
		}
		if e.powers[k].IsNothing() {
			return quantity.Quantity{}, fmt.Errorf("flowsheet: %s states no power; put it into a Driven with one", unit)
		}
		return e.powers[k], nil
	}
	return quantity.Quantity{}, fmt.Errorf("flowsheet: no unit is called %q", unit)
}

// PerTonne is the power of all units per rate of something, such as a product's
// solids or the metal in it.
//
// Units: rate is a mass flow; the result in kWh/t.
//
// Range: as Result.Energy.
//
// Errors: a rate that is no mass flow above 0.
//
// Source: the definition of a specific energy.
func (e Energy) PerTonne(rate quantity.Quantity) (quantity.Quantity, error) {
	if x, err := rate.Value("t/h"); err != nil || !(x > 0) {
		return quantity.Quantity{}, fmt.Errorf("flowsheet: energy is told per a mass flow above 0, and %v is not", rate)
	}
	return e.Total().Div(rate).To("kWh/t"), nil
}

// TablePer is Table with what each unit draws for a tonne of a product too, called
// name, that is made at a rate.
//
// Units: rate is a mass flow, as the solids of a product or the metal in it.
//
// Range: as Result.Energy.
//
// Errors: a rate that is no mass flow above 0.
//
// Source: the definition of a specific energy.
func (e Energy) TablePer(name string, rate quantity.Quantity) (table.Table, error) {
	if _, err := e.PerTonne(rate); err != nil {
		return table.Table{}, err
	}
	return e.tableWith(name, rate), nil
}

// Table is the power of each unit, per tonne of fresh feed, and its share.
func (e Energy) Table() table.Table { return e.tableWith("", quantity.Quantity{}) }

func (e Energy) tableWith(name string, rate quantity.Quantity) table.Table {
	names := append(append([]string{}, e.names...), "sum")
	var powers, per, made, shares []quantity.Quantity
	total := e.Total()
	for _, power := range append(append([]quantity.Quantity{}, e.powers...), total) {
		if power.IsNothing() {
			nan := quantity.Number(0).Div(quantity.Number(0))
			powers, per, made, shares = append(powers, nan), append(per, nan), append(made, nan), append(shares, nan)
			continue
		}
		share := quantity.Of(0, "%")
		if total.SI() > 0 {
			share = power.Div(total).To("%")
		}
		powers, per, shares = append(powers, power), append(per, power.Div(e.feed).To("kWh/t")), append(shares, share)
		if name != "" {
			made = append(made, power.Div(rate).To("kWh/t"))
		}
	}
	caption := "Power of " + e.plant
	if silent := e.Silent(); len(silent) > 0 {
		caption += "; none is stated by " + strings.Join(silent, ", ")
	}
	columns := []table.Column{table.Texts("unit", names), table.Quantities("power", powers), table.Quantities("per tonne of feed", per)}
	if name != "" {
		columns = append(columns, table.Quantities("per tonne of "+name, made))
	}
	return tabled(caption, append(columns, table.Quantities("share", shares))...)
}

// String is Table as text.
func (e Energy) String() string { return e.Table().String() }

// HTML is Table as HTML.
func (e Energy) HTML() string { return e.Table().HTML() }

// Markdown is Table as Markdown.
func (e Energy) Markdown() string { return e.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (e Energy) LaTeX() string { return e.Table().LaTeX() }
