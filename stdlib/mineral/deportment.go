package mineral

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Carrier is a mineral or product that holds some of an element.
type Carrier struct {
	Name   string
	Amount quantity.Quantity // its share of the material, or its mass or flow
	Grade  quantity.Quantity // the share of the element in it
}

// Deportment is how an element is spread over its carriers: how much of the iron
// is metal, how much sits in ilmenite, how much in silicates. Make one with
// NewDeportment.
type Deportment struct {
	element  string
	carriers []Carrier
	held     []quantity.Quantity
}

// NewDeportment is the deportment of an element, or of an oxide, over carriers.
// A carrier holds
//
//	held = amount · grade
//
// and its part of the element is held / Σ held.
//
// Units: amounts are shares of mass, or masses, or mass flows, all of one kind;
// grades are shares of mass. Content gives the grade of an ideal mineral.
//
// Range: all carriers that matter; Against tells what they leave out.
//
// Errors: no carrier, a name missing or given twice, an amount below 0 or not
// finite or of another kind than the first, a grade that is no share of mass,
// carriers that hold nothing together.
//
// Source: the mass balance of the element.
func NewDeportment(element string, carriers ...Carrier) (Deportment, error) {
	if len(carriers) == 0 {
		return Deportment{}, fmt.Errorf("mineral: %s: a deportment needs at least one carrier", element)
	}
	d := Deportment{element: element, carriers: slices.Clone(carriers)}
	total := 0.0
	for i, c := range carriers {
		isAgain := slices.ContainsFunc(carriers[:i], func(other Carrier) bool { return other.Name == c.Name })
		if strings.TrimSpace(c.Name) == "" || isAgain {
			return Deportment{}, fmt.Errorf("mineral: %s: carrier %d needs a name of its own, and %q is not", element, i+1, c.Name)
		}
		amount, err := checkAmount(c, carriers[0])
		if err != nil {
			return Deportment{}, fmt.Errorf("mineral: %s: %w", element, err)
		}
		if err := checkShare(element+" in "+c.Name, c.Grade); err != nil {
			return Deportment{}, err
		}
		grade, _ := c.Grade.Value("wt%") // checkShare has read it
		total += amount * grade
		d.held = append(d.held, c.Amount.Mul(c.Grade))
	}
	if total == 0 {
		return Deportment{}, fmt.Errorf("mineral: there is no %s in any carrier, so it has no deportment", element)
	}
	return d, nil
}

// checkAmount reads an amount in the unit of the first carrier's.
func checkAmount(c, first Carrier) (float64, error) {
	amount, err := c.Amount.Value(first.Amount.Unit().String())
	if err != nil {
		return 0, fmt.Errorf("the amounts of %s, %v, and of %s, %v, are not of one kind", first.Name, first.Amount, c.Name, c.Amount)
	}
	if _, err := c.Amount.Value("vol%"); err == nil && c.Amount.Unit().String() == "vol%" {
		return 0, fmt.Errorf("the amount of %s is a share of volume; turn it into one of mass with the densities", c.Name)
	}
	if !(amount >= 0) || math.IsInf(amount, 0) {
		return 0, fmt.Errorf("the amount of %s cannot be %v", c.Name, c.Amount)
	}
	return amount, nil
}

// Carriers are the names of the carriers, in their order.
func (d Deportment) Carriers() []string {
	names := make([]string, len(d.carriers))
	for i, c := range d.carriers {
		names[i] = c.Name
	}
	return names
}

// Total is what all carriers hold together: the share of the element in the
// material where amounts are shares of it, else its mass or flow.
func (d Deportment) Total() quantity.Quantity { return quantity.Sum(d.held...) }

// Parts are the carriers' parts of the element, in % of what all of them hold.
func (d Deportment) Parts() []quantity.Quantity {
	total := d.Total()
	parts := make([]quantity.Quantity, len(d.held))
	for i, held := range d.held {
		parts[i] = held.Div(total).To("%")
	}
	return parts
}

// Part is one carrier's part of the element.
//
// Units: in %.
//
// Range: from 0 to 100 %; all parts add up to 100 %.
//
// Errors: there is no carrier of that name.
//
// Source: the mass balance of the element.
func (d Deportment) Part(carrier string) (quantity.Quantity, error) {
	if i := slices.Index(d.Carriers(), carrier); i >= 0 {
		return d.Parts()[i], nil
	}
	return quantity.Quantity{}, fmt.Errorf("mineral: %s has no carrier %q; there are %s", d.element, carrier, strings.Join(d.Carriers(), ", "))
}

// Against is the part of the element that the carriers do not explain,
//
//	(assay − Σ held) / assay
//
// It is below 0 where they hold more than was assayed.
//
// Units: assay is of the kind of Total; the result is in %.
//
// Range: any assay above 0.
//
// Errors: an assay of another kind, or not above 0.
//
// Source: the closure of the element's balance.
func (d Deportment) Against(assay quantity.Quantity) (quantity.Quantity, error) {
	total := d.Total()
	value, err := assay.Value(total.Unit().String())
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("mineral: the assay of %s, %v, is not of the kind of what the carriers hold, %v", d.element, assay, total)
	}
	if !(value > 0) {
		return quantity.Quantity{}, fmt.Errorf("mineral: the assay of %s is above 0, and %v is not", d.element, assay)
	}
	return assay.Sub(total).Div(assay).In("%")
}

// Table is the deportment as a table: carrier, amount, grade, what it holds and
// its part of the element, and the sum of the last two in the last row; beside
// what is uncertain one standard deviation.
func (d Deportment) Table() table.Table {
	nothing := func(like quantity.Quantity) quantity.Quantity { return like.Unit().Quantity(math.NaN()) }
	names := append(d.Carriers(), "all")
	var amounts, grades []quantity.Quantity
	for _, c := range d.carriers {
		amounts, grades = append(amounts, c.Amount), append(grades, c.Grade)
	}
	amounts, grades = append(amounts, nothing(amounts[0])), append(grades, nothing(grades[0]))
	all := append([]table.Column{table.Texts("carrier", names)}, columns("amount", amounts)...)
	all = append(all, columns("grade", grades)...)
	all = append(all, columns("held", append(slices.Clone(d.held), d.Total()))...)
	return mustTable(append(all, columns("part of "+d.element, append(d.Parts(), percent(1)))...)...)
}

// String is Table as text.
func (d Deportment) String() string { return d.Table().String() }

// HTML is Table as HTML.
func (d Deportment) HTML() string { return d.Table().HTML() }

// Markdown is Table as Markdown.
func (d Deportment) Markdown() string { return d.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (d Deportment) LaTeX() string { return d.Table().LaTeX() }
