package stream

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Stream is a flow of solids over the classes of a grid, with its water. It is a
// value and does not change: what works on it returns another.
type Stream struct {
	name    string
	classes *Classes
	flows   []float64 // kg/s; size i × particle j at i·Particles() + j
	water   float64   // kg/s
	unit    string    // in which rates are shown; empty means t/h
}

// waterDensity is that of the water of pulps, kg/m³: water of 4 °C has 1000, of
// 25 °C 997.
const waterDensity = 1000

// New is the stream of stated flows.
//
// Units: solids are plain numbers in kg/s, a row for each size class with one
// number for each particle class; water is a mass flow, or a volume flow taken
// at 1000 kg/m³; nothing for a dry stream.
//
// Range: 0 or above.
//
// Errors: no classes; rows or numbers missing or too many; a flow below 0 or not
// a number, with its size and particle; water that is no flow.
//
// Source: the definition of a stream as a matrix of classes; common practice.
func New(name string, c *Classes, solids [][]float64, water quantity.Quantity) (Stream, error) {
	if c == nil {
		return Stream{}, fmt.Errorf("stream: %s: a stream needs classes; NewClasses makes them", name)
	}
	flows, err := c.flatten(name, solids)
	if err != nil {
		return Stream{}, err
	}
	wet, err := waterFlow(name, water)
	if err != nil {
		return Stream{}, err
	}
	return Stream{name: name, classes: c, flows: flows, water: wet}, nil
}

// flatten checks a matrix of flows and lays its rows end to end.
func (c *Classes) flatten(name string, solids [][]float64) ([]float64, error) {
	if len(solids) != c.Sizes() {
		return nil, fmt.Errorf("stream: %s: %d size classes need as many rows of flows; there are %d", name, c.Sizes(), len(solids))
	}
	flows := make([]float64, 0, c.Sizes()*c.Particles())
	for i, row := range solids {
		if len(row) != c.Particles() {
			return nil, fmt.Errorf("stream: %s, size %s: %d particle classes need as many flows; there are %d", name, c.Size(i), c.Particles(), len(row))
		}
		for j, flow := range row {
			if !(flow >= 0) || math.IsInf(flow, 0) {
				return nil, fmt.Errorf("stream: %s, size %s, %s: a flow is 0 or above, and %g kg/s is not", name, c.Size(i), c.particles[j].Name, flow)
			}
		}
		flows = append(flows, row...)
	}
	return flows, nil
}

// waterFlow reads a flow of water in kg/s.
func waterFlow(name string, water quantity.Quantity) (float64, error) {
	if water.IsNothing() {
		return 0, nil
	}
	flow, err := water.Value("kg/s")
	if err != nil {
		volume, wrong := water.Value("m3/s")
		if wrong != nil {
			return 0, fmt.Errorf("stream: %s: water is a flow, as in t/h or m³/h, and %v is not", name, water)
		}
		flow = volume * waterDensity
	}
	if !(flow >= 0) || math.IsInf(flow, 0) {
		return 0, fmt.Errorf("stream: %s: a flow of water is 0 or above, and %v is not", name, water)
	}
	return flow, nil
}

// Name is the stream's name.
func (s Stream) Name() string { return s.name }

// Named is the stream under another name.
func (s Stream) Named(name string) Stream {
	s.name = name
	return s
}

// ShownIn is the stream with its rates shown in another unit, such as kg/h for a
// pilot plant; without it they are shown in that of the feed's rate, or in t/h.
//
// Units: unit is one of mass per time.
//
// Range: any such unit.
//
// Errors: a unit that is none or measures something else.
//
// Source: common practice.
func (s Stream) ShownIn(unit string) (Stream, error) {
	if _, err := quantity.Of(1, "kg/s").In(unit); err != nil {
		return s, fmt.Errorf("stream: %s: rates are shown in a mass per time, as in t/h: %w", s.name, err)
	}
	s.unit = unit
	return s, nil
}

// Classes is the grid on which the stream is told; nil for the zero Stream.
func (s Stream) Classes() *Classes { return s.classes }

// Flows are the flows in kg/s, a row for each size class with one number for
// each particle class. They are a copy.
func (s Stream) Flows() [][]float64 {
	rows := make([][]float64, s.sizes())
	if len(rows) == 0 {
		return rows
	}
	n := s.classes.Particles()
	all := slices.Clone(s.flows)
	for i := range rows {
		rows[i] = all[i*n : (i+1)*n : (i+1)*n]
	}
	return rows
}

// Flow is the flow in kg/s of size class i and particle class j, which are
// indices as of slices.
func (s Stream) Flow(i, j int) float64 { return s.flows[i*s.classes.Particles()+j] }

// WaterFlow is the flow of water in kg/s as a plain number.
func (s Stream) WaterFlow() float64 { return s.water }

func (s Stream) sizes() int {
	if s.classes == nil {
		return 0
	}
	return s.classes.Sizes()
}

// rate is a flow of kg/s in the unit in which the stream's rates are shown.
func (s Stream) rate(flow float64) quantity.Quantity {
	unit := s.unit
	if unit == "" {
		unit = "t/h"
	}
	return quantity.Of(flow, "kg/s").To(unit)
}

func (s Stream) solids() float64 { return numeric.Sum(s.flows...) }

// Solids is the rate of dry solids.
func (s Stream) Solids() quantity.Quantity { return s.rate(s.solids()) }

// Water is the rate of water.
func (s Stream) Water() quantity.Quantity { return s.rate(s.water) }

// Pulp is the rate of solids and water together.
func (s Stream) Pulp() quantity.Quantity { return s.rate(s.solids() + s.water) }

// IsDry reports whether there is no water.
func (s Stream) IsDry() bool { return s.water == 0 }

// check refuses the zero Stream.
func (s Stream) check() error {
	if s.classes == nil {
		return fmt.Errorf("stream: %q is no stream yet; make it with New or Feed", s.name)
	}
	return nil
}

// hasSolids refuses streams for which a share of the solids has no meaning.
func (s Stream) hasSolids(what string) error {
	if err := s.check(); err != nil {
		return err
	}
	if !slices.ContainsFunc(s.flows, func(flow float64) bool { return flow > 0 }) {
		return fmt.Errorf("stream: %s: there are no solids, so there is no %s", s.name, what)
	}
	return nil
}

func quoted(names []string) string { return strings.Join(names, ", ") }
