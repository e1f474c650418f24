package balance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Closure is a report of every balance: at each node, for the mass and for each
// component, what enters and what leaves as measured, the difference as a share of
// what enters, and that of the adjusted figures, which is rounding only: what lies
// below 10⁻⁹ % is told as 0. Where a figure was not measured, the measured side is
// a dash.
func (r Reconciled) Closure() table.Table {
	var nodes, of []string
	var in, out, before, after []quantity.Quantity
	for _, c := range r.problem.constraints {
		if c.node < 0 {
			continue
		}
		name := "mass"
		if c.component >= 0 {
			name = r.problem.components[c.component]
		}
		measuredIn, measuredOut := r.problem.sides(c, func(v variable) float64 {
			if !v.measured {
				return math.NaN()
			}
			return v.given
		})
		adjustedIn, adjustedOut := r.problem.sides(c, func(v variable) float64 { return v.value })
		flow := func(x float64) quantity.Quantity { return r.problem.flowUnit.Quantity(x) }
		nodes, of = append(nodes, r.problem.network.nodes[c.node]), append(of, name)
		in, out = append(in, flow(measuredIn)), append(out, flow(measuredOut))
		before = append(before, percent((measuredIn-measuredOut)/measuredIn))
		open := (adjustedIn - adjustedOut) / adjustedIn
		if math.Abs(open) < 1e-11 {
			open = 0
		}
		after = append(after, percent(open))
	}
	t, err := table.New(table.Texts("node", nodes), table.Texts("balance of", of), table.Quantities("in, measured", in),
		table.Quantities("out, measured", out), table.Quantities("open, measured", before), table.Quantities("open, adjusted", after))
	if err != nil {
		panic("balance: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Closure of every balance")
}

// sides are the sums of what enters and what leaves.
func (p *problem) sides(c constraint, of func(variable) float64) (in, out float64) {
	var enters, leaves []float64
	for _, t := range c.terms {
		product := of(p.variables[t.a])
		if t.b >= 0 {
			product *= of(p.variables[t.b])
		}
		if t.factor > 0 {
			enters = append(enters, product)
		} else {
			leaves = append(leaves, product)
		}
	}
	return numeric.Sum(enters...), numeric.Sum(leaves...)
}

// Metallurgical is the balance of the plant by its adjusted figures: for each stream
// the flow, its share of that of a reference stream, and for each component that
// was asked for its grade and its share of what the reference holds. Without
// components it is all of them.
//
// Units: flows in the unit of the measurements; shares in %.
//
// Range: figures that are unobservable are dashes.
//
// Errors: a stream or component that is not in the network; a reference without
// flow or without some of a component.
//
// Source: the metallurgical balance; common practice.
func (r Reconciled) Metallurgical(reference string, components ...string) (table.Table, error) {
	if len(components) == 0 {
		components = slices.Clone(r.problem.components)
	}
	base, err := r.Flow(reference)
	if err != nil {
		return table.Table{}, err
	}
	if base.Value.IsNaN() || base.Value.SI() == 0 {
		return table.Table{}, fmt.Errorf("balance: the flow of %s is not known, or 0, and nothing can be told as a share of it", reference)
	}
	var flows, shares []quantity.Quantity
	for _, s := range r.problem.network.streams {
		f, err := r.Flow(s.Name)
		if err != nil {
			return table.Table{}, err
		}
		flows, shares = append(flows, f.Value), append(shares, percent(f.Value.SI()/base.Value.SI()))
	}
	columns := []table.Column{table.Texts("stream", names(r.problem.network.streams)),
		table.Quantities("flow", flows), table.Quantities("mass", shares)}
	for _, component := range components {
		whole, err := r.Assay(reference, component)
		if err != nil {
			return table.Table{}, fmt.Errorf("%w; there are %s", err, strings.Join(r.problem.components, ", "))
		}
		if whole.Value.IsNaN() || whole.Value.SI() == 0 {
			return table.Table{}, fmt.Errorf("balance: how much %s %s holds is not known, or nothing, and nothing can be told as a share of it", component, reference)
		}
		var grades, metal []quantity.Quantity
		for i, s := range r.problem.network.streams {
			f, err := r.Assay(s.Name, component)
			if err != nil {
				return table.Table{}, err
			}
			grades = append(grades, f.Value)
			metal = append(metal, percent(flows[i].SI()*f.Value.SI()/(base.Value.SI()*whole.Value.SI())))
		}
		columns = append(columns, table.Quantities(component+" grade", grades), table.Quantities(component+" share", metal))
	}
	t, err := table.New(columns...)
	if err != nil {
		return table.Table{}, err
	}
	return t.Caption("Metallurgical balance, " + reference + " = 100 %"), nil
}
