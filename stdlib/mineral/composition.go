package mineral

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Composition is shares of mass by name: the elements of a mineral, or the
// elements and oxides of an assay. It is not changed by its methods. Shares may be
// uncertain.
type Composition struct {
	names  []string
	shares []quantity.Quantity
}

// NewComposition is the composition with the given names and shares.
//
// Units: shares of mass, as in %, g/t or plain fractions, one for each name.
//
// Range: an assay need not be complete; its shares are not made to add up to
// 100 %. CheckTotal tells whether they do.
//
// Errors: lengths that differ, a name missing or given twice, a share below 0 or
// above 100 % or not a number, a share that is no share of mass (one of volume or
// of moles).
//
// Source: the definition of a mass fraction, ISO 80000-9.
func NewComposition(names []string, shares []quantity.Quantity) (Composition, error) {
	if len(names) == 0 || len(names) != len(shares) {
		return Composition{}, fmt.Errorf("mineral: a composition needs a share for each name; there are %d names and %d shares", len(names), len(shares))
	}
	for i, name := range names {
		if strings.TrimSpace(name) == "" || slices.Contains(names[:i], name) {
			return Composition{}, fmt.Errorf("mineral: part %d of a composition needs a name of its own, and %q is not", i+1, name)
		}
		if err := checkShare(name, shares[i]); err != nil {
			return Composition{}, err
		}
	}
	return Composition{slices.Clone(names), slices.Clone(shares)}, nil
}

func checkShare(name string, share quantity.Quantity) error {
	value, err := share.Value("wt%")
	if err != nil {
		return fmt.Errorf("mineral: %s: a share of mass is needed, as in %% or g/t, and %v is not", name, share)
	}
	if math.IsNaN(value) {
		return fmt.Errorf("mineral: %s: the share is not a number; leave out what was not assayed", name)
	}
	if !(value >= 0 && value <= 100) {
		return fmt.Errorf("mineral: %s: a share lies between 0 and 100 %%, and %v does not", name, share)
	}
	return nil
}

// FromTable is the composition in a table with a column of names and one of
// shares.
//
// Units: the column named share holds shares of mass.
//
// Range: one row for each name.
//
// Errors: a column that is missing or of the wrong kind, and what NewComposition
// refuses.
//
// Source: the usual sheet of an assay; common practice.
func FromTable(t table.Table, names, share string) (Composition, error) {
	texts, err := t.Text(names)
	if err != nil {
		return Composition{}, fmt.Errorf("mineral: the names of a composition: %w", err)
	}
	shares, err := t.Column(share)
	if err != nil {
		return Composition{}, fmt.Errorf("mineral: the shares of a composition: %w", err)
	}
	return NewComposition(texts, shares)
}

// Names are the names of the parts, in their order.
func (c Composition) Names() []string { return slices.Clone(c.names) }

// Shares are the mass shares of the parts, in the order of Names.
func (c Composition) Shares() []quantity.Quantity { return slices.Clone(c.shares) }

// Share is the mass share of one part.
//
// Units: in the unit it came in.
//
// Range: from 0 to 100 %.
//
// Errors: there is no part of that name; what was not assayed is not 0.
//
// Source: the composition as given.
func (c Composition) Share(name string) (quantity.Quantity, error) {
	if i := slices.Index(c.names, name); i >= 0 {
		return c.shares[i], nil
	}
	return quantity.Quantity{}, fmt.Errorf("mineral: no %s in the composition; there are %s", name, strings.Join(c.names, ", "))
}

// Total is the sum of the shares, in %.
func (c Composition) Total() quantity.Quantity {
	total := percent(0)
	for _, share := range c.shares {
		total = total.Add(share.To("%"))
	}
	return total
}

// CheckTotal is nil if the shares add up to 100 % within a tolerance you state.
//
// Units: tolerance is a share of mass, as in 1 %.
//
// Range: complete analyses. A rock analysis is usually held good from 98.5 or 99
// to 101 %.
//
// Errors: a total outside the tolerance, with the total; a tolerance below 0 or
// with a dimension.
//
// Source: the closure of an analysis; the usual tolerance is common practice.
func (c Composition) CheckTotal(tolerance quantity.Quantity) error {
	allowed, err := tolerance.Value("wt%")
	if err != nil || !(allowed >= 0) {
		return fmt.Errorf("mineral: the tolerance of a total is a share of mass, as in 1 %%, and %v is not", tolerance)
	}
	if len(c.names) == 0 {
		return errors.New("mineral: there is nothing in the composition")
	}
	total, err := c.Total().Value("%")
	if err != nil {
		return err
	}
	if math.Abs(total-100) <= allowed+1e-9 { // the tolerance itself must survive rounding
		return nil
	}
	return fmt.Errorf("mineral: the shares of %s add up to %.4g %%, more than %v from 100 %%; look for a part not assayed, or assayed twice",
		strings.Join(c.names, ", "), total, tolerance)
}

// Table is the composition as a table of names and shares, and one standard
// deviation of each where it is uncertain.
func (c Composition) Table() table.Table {
	shares := make([]quantity.Quantity, len(c.shares))
	for i, share := range c.shares {
		shares[i] = share.To("%")
	}
	return mustTable(append([]table.Column{table.Texts("part", c.names)}, columns("share", shares)...)...).Caption(fmt.Sprintf("total %.4g", c.Total().Certain()))
}

// columns is a column of quantities, followed by one of their standard deviations
// if any of them is uncertain.
func columns(name string, values []quantity.Quantity) []table.Column {
	out := []table.Column{table.Quantities(name, values)}
	spreads := make([]quantity.Quantity, len(values))
	isUncertain := false
	for i, q := range values {
		isUncertain = isUncertain || q.IsUncertain()
		spreads[i] = q.StdDev()
	}
	if isUncertain {
		out = append(out, table.Quantities("± "+name, spreads))
	}
	return out
}

// mustTable joins columns that the callers have made of one length.
func mustTable(columns ...table.Column) table.Table {
	t, err := table.New(columns...)
	if err != nil {
		panic("mineral: " + err.Error())
	}
	return t
}

// String is Table as text.
func (c Composition) String() string { return c.Table().String() }

// HTML is Table as HTML.
func (c Composition) HTML() string { return c.Table().HTML() }

// Markdown is Table as Markdown.
func (c Composition) Markdown() string { return c.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (c Composition) LaTeX() string { return c.Table().LaTeX() }
