package control

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// Control is a setting that may be put on a page: a Dial, a Choice or a Switch.
type Control interface{ knob() show.Knob }

// Dial is a quantity between two bounds, moved by a slider.
type Dial struct {
	name      string
	low, high quantity.Quantity
	form      show.Form
	step      float64

	mu    sync.Mutex
	value quantity.Quantity
}

// Slide makes a slider for a quantity from low to high, which begins at start.
// Its steps are round numbers, some 200 from end to end.
//
// Units: low, high and start of one dimension; numbers on the page are in the
// unit of low.
//
// Errors: unlike dimensions, uncertain bounds, bounds that are not in order, a
// start outside of them.
func Slide(name string, low, high, start quantity.Quantity) (*Dial, error) {
	return newDial(name, show.FormSlide, low, high, start)
}

// Decades is Slide on a logarithmic scale, for what spans powers of ten.
//
// Errors: those of Slide, and a low that is not above 0.
func Decades(name string, low, high, start quantity.Quantity) (*Dial, error) {
	return newDial(name, show.FormDecades, low, high, start)
}

func newDial(name string, form show.Form, low, high, start quantity.Quantity) (*Dial, error) {
	if strings.TrimSpace(name) == "" {
		return nil, fmt.Errorf("a slider needs a name: what does it set?")
	}
	for _, q := range []quantity.Quantity{low, high, start} {
		if q.Dimension() != low.Dimension() {
			return nil, fmt.Errorf("slider %q: %v and %v are not of one dimension", name, low, q)
		}
		if x, err := q.Value(low.Unit().String()); err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("slider %q: %v is no place on it", name, q)
		}
		if q.IsUncertain() {
			return nil, fmt.Errorf("slider %q: %v is uncertain: give a plain value", name, q)
		}
	}
	d := &Dial{name: name, low: low, high: high, form: form}
	from, to := d.number(low), d.number(high)
	switch {
	case from >= to:
		return nil, fmt.Errorf("slider %q: its low end %v is not below its high end %v", name, low, high)
	case form == show.FormDecades && from <= 0:
		return nil, fmt.Errorf("slider %q: a scale of decades cannot begin at %v: begin above 0", name, low)
	case form == show.FormDecades:
		d.step = 0.01
	default:
		d.step = roundStep((to - from) / 200)
	}
	if text, ok := show.Start(name); ok {
		q, err := quantity.Parse(text)
		if err != nil {
			return nil, fmt.Errorf("slider %q set to %q: %w", name, text, err)
		}
		if unit := low.Unit().Symbol(); unit != "" && q.Unit().Symbol() == "" {
			return nil, fmt.Errorf("slider %q set to %q: write the unit too; the slider is in %s", name, text, unit)
		}
		start = q
	}
	if err := d.Set(start); err != nil {
		return nil, err
	}
	return d, nil
}

// roundStep is the largest of 1, 2 and 5 times a power of ten that is not above x.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range []float64{5, 2} {
		if n*power <= x*(1+1e-9) {
			return n * power
		}
	}
	return power
}

// number is a quantity as the slider has it.
func (d *Dial) number(q quantity.Quantity) float64 {
	x, err := q.Value(d.low.Unit().String())
	if err != nil {
		return math.NaN()
	}
	return x
}

// Value is the present setting.
func (d *Dial) Value() quantity.Quantity {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.value
}

// Set moves the slider. What a page shows of it moves when the slider is next
// shown.
//
// Errors: another dimension, an uncertain value, one outside the bounds; the setting stays.
func (d *Dial) Set(q quantity.Quantity) error {
	if q.IsUncertain() {
		return fmt.Errorf("slider %q takes a plain value, and %v is uncertain", d.name, q)
	}
	if q.Dimension() != d.low.Dimension() {
		return fmt.Errorf("slider %q takes what is measured in %v, and %v is not", d.name, d.low.Unit(), q)
	}
	x := d.number(q)
	if from, to := d.number(d.low), d.number(d.high); !(x >= from-1e-12*math.Abs(from) && x <= to+1e-12*math.Abs(to)) {
		return fmt.Errorf("slider %q goes from %v to %v: %v is outside", d.name, d.low, d.high, q)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.value = q
	return nil
}

// String is the name with the setting.
func (d *Dial) String() string { return d.name + ": " + d.Value().String() }

func (d *Dial) knob() show.Knob {
	unit := d.low.Unit().String()
	return show.Knob{
		Name: d.name, Unit: unit, Form: d.form, Low: d.number(d.low), High: d.number(d.high), Step: d.step,
		Get: func() float64 { return d.number(d.Value()) },
		Set: func(x float64) error {
			q, err := quantity.New(tidy(x), unit)
			if err != nil {
				return err
			}
			return d.Set(q)
		},
		Text: func() string { return d.Value().String() },
	}
}

// tidy takes off what sums of steps leave behind the twelfth digit.
func tidy(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, 11-math.Floor(math.Log10(math.Abs(x))))
	if math.IsInf(scale, 0) || scale == 0 {
		return x
	}
	return math.Round(x*scale) / scale
}
