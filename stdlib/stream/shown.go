package stream

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Table is the stream size by size: rate, share and cumulative passing, and the
// grade of each mineral. Its caption says the rates of the whole.
func (s Stream) Table() table.Table {
	if s.classes == nil {
		return mustTable(table.Texts("size", nil)).Caption("no stream yet")
	}
	c, whole := s.classes, s.solids()
	sizes := make([]string, c.Sizes())
	flows := make([]quantity.Quantity, c.Sizes())
	shares := make([]quantity.Quantity, c.Sizes())
	passing := make([]quantity.Quantity, c.Sizes())
	ones := make([]float64, c.Particles())
	for j := range ones {
		ones[j] = 1
	}
	below := 1.0
	for i, flow := range s.bySize(ones) {
		sizes[i], flows[i] = c.Size(i), s.rate(flow)
		shares[i] = quantity.Of(100*ratio(flow, whole), "%")
		below = max(below-ratio(flow, whole), 0) // rounding
		passing[i] = quantity.Of(100*below, "%")
		if i == c.Sizes()-1 {
			passing[i] = quantity.Of(math.NaN(), "%")
		}
	}
	columns := []table.Column{table.Texts("size", sizes), table.Quantities("solids", flows),
		table.Quantities("share", shares), table.Quantities("passing", passing)}
	for _, name := range c.minerals {
		if grades, err := s.GradeBySize(name); err == nil && name != "share" && name != "passing" {
			columns = append(columns, table.Quantities(name, grades))
		}
	}
	return mustTable(columns...).Caption(s.summary())
}

// summary is the stream in a line.
func (s Stream) summary() string {
	text := fmt.Sprintf("%s: %.4g of solids", s.name, s.Solids())
	if s.water > 0 {
		text += fmt.Sprintf(", %.4g of water", s.Water())
		if share, err := s.PercentSolids(); err == nil {
			text += fmt.Sprintf(", %.3g solids", share)
		}
	}
	return text
}

// ParticleTable is the stream particle class by particle class: rate, share,
// density and what it holds of each mineral.
func (s Stream) ParticleTable() table.Table {
	if s.classes == nil {
		return mustTable(table.Texts("particles", nil)).Caption("no stream yet")
	}
	n := s.classes.Particles()
	flows := make([]float64, n)
	for at, flow := range s.flows {
		flows[at%n] += flow
	}
	rates, shares := make([]quantity.Quantity, n), make([]quantity.Quantity, n)
	for j, flow := range flows {
		rates[j], shares[j] = s.rate(flow), quantity.Of(100*ratio(flow, s.solids()), "%")
	}
	columns := append([]table.Column{table.Texts("particles", s.classes.ParticleNames()),
		table.Quantities("solids", rates), table.Quantities("share", shares)}, s.classes.properties()...)
	return mustTable(columns...).Caption(s.summary())
}

// properties are columns of densities and of the minerals' shares.
func (c *Classes) properties() []table.Column {
	n := c.Particles()
	low, high := make([]quantity.Quantity, n), make([]quantity.Quantity, n)
	for j, p := range c.particles {
		var err error
		if low[j], high[j], err = p.DensityRange(); err != nil {
			low[j], high[j] = quantity.Of(math.NaN(), "g/cm3"), quantity.Of(math.NaN(), "g/cm3")
		}
	}
	columns := []table.Column{table.Quantities("density from", low), table.Quantities("to", high)}
	for k, name := range c.minerals {
		shares := make([]quantity.Quantity, n)
		for j, share := range c.content[k] {
			shares[j] = quantity.Of(100*share, "%")
		}
		columns = append(columns, table.Quantities(name+" held", shares))
	}
	return columns
}

// Table is the particle classes with the ranges of their densities and what they
// hold of each mineral.
func (c *Classes) Table() table.Table {
	columns := append([]table.Column{table.Texts("particles", c.ParticleNames())}, c.properties()...)
	return mustTable(columns...).Caption(fmt.Sprintf("%d sizes from %v down, %d classes of particles", c.Sizes(), c.openings[0], c.Particles()))
}

// String is Table as text.
func (c *Classes) String() string { return c.Table().String() }

// HTML is Table as HTML.
func (c *Classes) HTML() string { return c.Table().HTML() }

// Markdown is Table as Markdown.
func (c *Classes) Markdown() string { return c.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (c *Classes) LaTeX() string { return c.Table().LaTeX() }

// String is Table as text.
func (s Stream) String() string { return s.Table().String() }

// HTML is Table as HTML.
func (s Stream) HTML() string { return s.Table().HTML() }

// Markdown is Table as Markdown.
func (s Stream) Markdown() string { return s.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (s Stream) LaTeX() string { return s.Table().LaTeX() }

// mustTable joins columns made of one length and under different names.
func mustTable(columns ...table.Column) table.Table {
	t, err := table.New(columns...)
	if err != nil {
		return table.Table{}.Caption("stream: " + err.Error())
	}
	return t
}
