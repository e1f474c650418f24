package flowsheet

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"
)

// Balance is the balance table by stream: solids, water where there is any, and
// for each component asked for its grade and its share of all that is fed.
//
// Units: rates as the first feed's, grades and recoveries in %.
//
// Range: every stream, feeds first. A stream without solids has no grade. Where
// units have uncertain fields the caption says that they count by their means.
//
// Errors: a component that the feed does not hold.
//
// Source: the solution of the plant.
func (r *Result) Balance(what ...string) (table.Table, error) {
	var names []string
	var solids, water []quantity.Quantity
	wet := false
	for _, s := range r.streams {
		names = append(names, s.Name())
		solids, water = append(solids, r.rate(s.Solids().SI())), append(water, r.rate(s.WaterFlow()))
		wet = wet || !s.IsDry()
	}
	columns := []table.Column{table.Texts("stream", names), table.Quantities("solids", solids)}
	if wet {
		columns = append(columns, table.Quantities("water", water))
	}
	for _, component := range what {
		grades, recoveries, err := r.component(component)
		if err != nil {
			return table.Table{}, err
		}
		columns = append(columns, table.Quantities("grade of "+component, grades), table.Quantities("recovery of "+component, recoveries))
	}
	made, err := table.New(columns...)
	if err != nil {
		return table.Table{}, fmt.Errorf("flowsheet: %w", err)
	}
	return made.Caption("Balance of " + r.sheet.name + r.meansNote()), nil
}

// component is the grade of every stream in one component, and its recovery.
func (r *Result) component(what string) (grades, recoveries []quantity.Quantity, err error) {
	content, err := r.sheet.feeds[0].Classes().Content(what)
	if err != nil {
		return nil, nil, err
	}
	mass := func(s stream.Stream) float64 {
		var sum float64
		for i := range s.Classes().Sizes() {
			for j, share := range content {
				sum += share * s.Flow(i, j)
			}
		}
		return sum
	}
	fed := mass(r.Feed())
	if fed == 0 {
		return nil, nil, fmt.Errorf("flowsheet: the feed of %s holds no %s", r.sheet.name, what)
	}
	for _, s := range r.streams {
		grade := quantity.Of(100*mass(s)/s.Solids().SI(), "%") // not a number for a stream without solids
		grades, recoveries = append(grades, grade), append(recoveries, quantity.Of(100*mass(s)/fed, "%"))
	}
	return grades, recoveries, nil
}

// String is the balance of solids and water as text.
func (r *Result) String() string { return r.plain().String() }

// HTML is the balance of solids and water as HTML.
func (r *Result) HTML() string { return r.plain().HTML() }

// Markdown is the balance of solids and water as Markdown.
func (r *Result) Markdown() string { return r.plain().Markdown() }

// LaTeX is the balance of solids and water as LaTeX.
func (r *Result) LaTeX() string { return r.plain().LaTeX() }

func (r *Result) plain() table.Table {
	made, err := r.Balance()
	if err != nil {
		panic("flowsheet: " + err.Error()) // without components nothing can be missing
	}
	return made
}
