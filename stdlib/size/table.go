package size

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// FromTable is the distribution in a table of a sieve analysis, as
// table.ReadFile reads it. The columns are
//
//   - sieve, with labels as FindSieve knows them and "pan" in the last row; or
//     opening with a unit, and 0 in the last row for the pan;
//   - mass with a unit, or volume of the classes as shares; or, in their place,
//     passing with a unit, as of a laser instrument, and then without a row for
//     the pan;
//   - any number of grades, each a column named by what was assayed with a unit
//     such as % or g/t.
//
// Other columns of texts are left aside.
//
// Units: opening is a length, mass a mass, grades shares of mass.
//
// Range: one row for each sieve, coarsest first, and one for the pan.
//
// Errors: a column missing, a label that names no sieve, no pan in the last
// row, a column of numbers that is neither mass nor grade, and what New and
// WithAssay refuse.
//
// Source: the usual sheet of a sieve analysis; common practice.
func FromTable(t table.Table) (Distribution, error) {
	names := t.Names()
	if slices.Contains(names, "passing") && !slices.Contains(names, "mass") && !slices.Contains(names, "volume") {
		return fromPassingTable(t)
	}
	openings, label, err := openingsOf(t)
	if err != nil {
		return Distribution{}, err
	}
	heavy := "mass"
	if slices.Contains(names, "volume") && !slices.Contains(names, "mass") {
		heavy = "volume"
	}
	masses, err := t.Column(heavy)
	if err != nil {
		return Distribution{}, fmt.Errorf("size: the masses retained: %w", err)
	}
	d, err := New(openings, masses)
	if err != nil {
		return Distribution{}, err
	}
	for _, name := range names {
		isText, err := t.IsText(name)
		if err != nil {
			return Distribution{}, err
		}
		if isText || name == heavy || name == label {
			continue
		}
		grades, err := t.Column(name)
		if err != nil {
			return Distribution{}, err
		}
		if d, err = d.WithAssay(name, grades); err != nil {
			return Distribution{}, err
		}
	}
	return d, nil
}

// fromPassingTable reads a cumulative curve.
func fromPassingTable(t table.Table) (Distribution, error) {
	for _, name := range t.Names() {
		isText, err := t.IsText(name)
		if err != nil {
			return Distribution{}, err
		}
		if !isText && name != "passing" && name != "opening" {
			return Distribution{}, fmt.Errorf("size: column %s: a cumulative curve has no classes that a grade could belong to; give masses instead of passing", name)
		}
	}
	passing, err := t.Column("passing")
	if err != nil {
		return Distribution{}, fmt.Errorf("size: what passes: %w", err)
	}
	if labels, err := t.Text("sieve"); err == nil {
		openings := make([]quantity.Quantity, len(labels))
		for i, label := range labels {
			sieve, err := FindSieve(label)
			if err != nil {
				return Distribution{}, fmt.Errorf("row %d: %w", i+1, err)
			}
			openings[i] = sieve.Opening
		}
		return FromPassing(openings, passing)
	}
	openings, err := t.Column("opening")
	if err != nil {
		return Distribution{}, fmt.Errorf("size: a cumulative curve needs a column sieve or a column opening with a unit; the columns are %s",
			strings.Join(t.Names(), ", "))
	}
	return FromPassing(openings, passing)
}

// openingsOf reads the sieves above the pan and says which column they stand in.
func openingsOf(t table.Table) ([]quantity.Quantity, string, error) {
	if labels, err := t.Text("sieve"); err == nil {
		openings, err := openingsFromLabels(labels)
		return openings, "sieve", err
	}
	openings, err := t.Column("opening")
	if err != nil {
		return nil, "", fmt.Errorf("size: a sieve analysis needs a column sieve or a column opening with a unit; the columns are %s",
			strings.Join(t.Names(), ", "))
	}
	last := len(openings) - 1
	if pan, err := openings[last].Value("m"); err != nil || pan != 0 {
		return nil, "", fmt.Errorf("size: the last row is the pan and has the opening 0")
	}
	return openings[:last], "opening", nil
}

func openingsFromLabels(labels []string) ([]quantity.Quantity, error) {
	last := len(labels) - 1
	if last < 0 || !strings.EqualFold(labels[last], "pan") {
		return nil, fmt.Errorf("size: the last row of column sieve says pan")
	}
	openings := make([]quantity.Quantity, last)
	for i, label := range labels[:last] {
		sieve, err := FindSieve(label)
		if err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
		openings[i] = sieve.Opening
	}
	return openings, nil
}

// Table is the distribution as a table: for each class its mass and share, the
// cumulative passing of its lower sieve, the grades and the shares of metal, and
// beside what is uncertain a column ± with one standard deviation.
func (d Distribution) Table() table.Table {
	passing := append(d.Passing(), quantity.Of(math.NaN(), "%"))
	all := []table.Column{table.Texts("class", d.Classes())}
	all = append(all, columns("mass", d.masses)...)
	all = append(all, columns("share", d.Shares())...)
	all = append(all, columns("passing", passing)...)
	for _, a := range d.assays {
		all = append(all, columns(a.name, a.grades)...)
		if metal, err := d.Metal(a.name); err == nil { // no metal anywhere: no such column
			all = append(all, columns("share of "+a.name, metal)...)
		}
	}
	t, err := table.New(all...)
	if err != nil {
		panic("size: " + err.Error()) // New and WithAssay have refused all that could lead here
	}
	return t.Caption(d.summary())
}

// summary is the median and the 80 % size in a line, as far as the sieves reach.
func (d Distribution) summary() string {
	var parts []string
	for _, share := range []float64{50, 80} {
		if length, err := d.D(share); err == nil {
			parts = append(parts, fmt.Sprintf("d%g = %s", share, brief(length)))
		}
	}
	if len(parts) == 0 {
		return "size distribution"
	}
	return strings.Join(parts, ", ") + " (" + d.between.String() + " between sieves)"
}

// String is Table as text.
func (d Distribution) String() string { return d.Table().String() }

// HTML is Table as HTML.
func (d Distribution) HTML() string { return d.Table().HTML() }

// Markdown is Table as Markdown.
func (d Distribution) Markdown() string { return d.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (d Distribution) LaTeX() string { return d.Table().LaTeX() }
