package flowsheet

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Input is a figure that is put in, with how low and how high it may be.
type Input struct {
	Name      string
	Base      quantity.Quantity
	Low, High quantity.Quantity // nothing: the interval of 95 % of an uncertain Base
}

// Swung is what one input does to an answer.
type Swung struct {
	Input
	AtLow, AtHigh quantity.Quantity // the answer there, the other inputs at their base
}

// Span is how far the answer moves, without sign.
func (s Swung) Span() quantity.Quantity { return s.AtHigh.Sub(s.AtLow).Abs() }

// Swings is an answer's sensitivity to each input by itself, the largest first.
// Swing makes it.
type Swings struct {
	name string
	base quantity.Quantity
	rows []Swung
}

// Swing varies the inputs one at a time: answer builds and solves the plant for a
// base, then for the low and the high figure of each input while the others stay.
//
// Units: inputs and the answer, called name, are any quantities.
//
// Range: it sees no input that matters only together with another: Carry does.
//
// Errors: what answer refuses, with the input; an input without a name, or with
// neither Low and High nor an uncertain Base.
//
// Source: common practice.
func Swing(name string, inputs []Input, answer func(inputs []quantity.Quantity) (quantity.Quantity, error)) (Swings, error) {
	base := make([]quantity.Quantity, len(inputs))
	inputs = slices.Clone(inputs)
	for k := range inputs {
		if err := inputs[k].complete(); err != nil {
			return Swings{}, err
		}
		base[k] = inputs[k].Base.Certain()
	}
	got, err := answer(slices.Clone(base))
	if err != nil {
		return Swings{}, fmt.Errorf("flowsheet: at the base: %w", err)
	}
	s := Swings{name: name, base: got}
	for k, input := range inputs {
		row := Swung{Input: input}
		for _, end := range []struct {
			at   quantity.Quantity
			into *quantity.Quantity
		}{{input.Low, &row.AtLow}, {input.High, &row.AtHigh}} {
			values := slices.Clone(base)
			values[k] = end.at
			if *end.into, err = answer(values); err != nil {
				return Swings{}, fmt.Errorf("flowsheet: %s at %v: %w", input.Name, end.at, err)
			}
			if !end.into.Unit().Compatible(got.Unit()) {
				return Swings{}, fmt.Errorf("flowsheet: %s at %v: the answer %v cannot be compared with %v, that at the base", input.Name, end.at, *end.into, got)
			}
		}
		s.rows = append(s.rows, row)
	}
	slices.SortStableFunc(s.rows, func(a, b Swung) int { return b.Span().Compare(a.Span()) })
	return s, nil
}

// complete fills in the ends of an uncertain input.
func (i *Input) complete() error {
	if i.Name == "" {
		return fmt.Errorf("flowsheet: an input of %v needs a name", i.Base)
	}
	if i.Low.IsNothing() && i.High.IsNothing() {
		if !i.Base.IsUncertain() {
			return fmt.Errorf("flowsheet: %s is certain and has neither Low nor High", i.Name)
		}
		var err error
		i.Low, i.High, err = i.Base.Interval(quantity.DefaultLevel)
		return err
	}
	for _, end := range []quantity.Quantity{i.Low, i.High} {
		if !end.Unit().Compatible(i.Base.Unit()) || math.IsNaN(end.SI()) {
			return fmt.Errorf("flowsheet: %s: %v does not measure what %v does", i.Name, end, i.Base)
		}
	}
	return nil
}

// Base is the answer with every input at its base.
func (s Swings) Base() quantity.Quantity { return s.base }

// Name is what was asked.
func (s Swings) Name() string { return s.name }

// Rows are the inputs with what they do, the largest swing first.
func (s Swings) Rows() []Swung { return slices.Clone(s.rows) }

// Table is the inputs with what they do, the largest swing first.
func (s Swings) Table() table.Table {
	var names, lows, highs []string
	var atLow, atHigh, span []quantity.Quantity
	for _, row := range s.rows {
		names, lows, highs = append(names, row.Name), append(lows, row.Low.String()), append(highs, row.High.String())
		atLow, atHigh, span = append(atLow, row.AtLow), append(atHigh, row.AtHigh), append(span, row.Span())
	}
	return tabled(fmt.Sprintf("%s, %v at the base, as one input moves", s.name, s.base), table.Texts("input", names), table.Texts("low", lows), table.Texts("high", highs),
		table.Quantities("at low", atLow), table.Quantities("at high", atHigh), table.Quantities("swing", span))
}

// String is Table as text.
func (s Swings) String() string { return s.Table().String() }

// HTML is Table as HTML.
func (s Swings) HTML() string { return s.Table().HTML() }

// Markdown is Table as Markdown.
func (s Swings) Markdown() string { return s.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (s Swings) LaTeX() string { return s.Table().LaTeX() }
