package balance

import (
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// Stream is a flow from one node of a network to another. An empty name is the
// world outside, where feeds come from and products go.
type Stream struct {
	Name, From, To string
}

// Network is the streams around the nodes of a plant: crushers, screens,
// separators, sumps. Make one with NewNetwork. It is not changed by its methods;
// those that add something return a new one.
type Network struct {
	streams []Stream
	nodes   []string
	closed  [][]string      // groups of components that add up to 100 %
	changes map[string]bool // node and component, of what a node does not conserve
}

// NewNetwork is the network of some streams. Its nodes are those the streams
// name.
//
// Units: none.
//
// Range: one node or more; streams may run in circles.
//
// Errors: a stream without a name of its own, or that begins and ends at the same
// place; no node; a node that nothing enters or nothing leaves.
//
// Source: the flowsheet.
func NewNetwork(streams ...Stream) (Network, error) {
	n := Network{streams: slices.Clone(streams), changes: map[string]bool{}}
	seen, enters, leaves := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i, s := range streams {
		if s.Name == "" || seen[s.Name] {
			return Network{}, fmt.Errorf("balance: stream %d needs a name of its own, and %q is not", i+1, s.Name)
		}
		if s.From == s.To {
			return Network{}, fmt.Errorf("balance: stream %s leads from %q to %q, which is nowhere else", s.Name, s.From, s.To)
		}
		seen[s.Name], leaves[s.From], enters[s.To] = true, true, true
		for _, node := range []string{s.From, s.To} {
			if node != "" && !slices.Contains(n.nodes, node) {
				n.nodes = append(n.nodes, node)
			}
		}
	}
	if len(n.nodes) == 0 {
		return Network{}, fmt.Errorf("balance: the streams name no node, so there is nothing to balance")
	}
	for _, node := range n.nodes {
		if !enters[node] || !leaves[node] {
			return Network{}, fmt.Errorf("balance: node %s has streams on one side only; what enters must leave", node)
		}
	}
	return n, nil
}

// Nodes are the names of the nodes, as the streams name them first.
func (n Network) Nodes() []string { return slices.Clone(n.nodes) }

// Streams are the streams, as given.
func (n Network) Streams() []Stream { return slices.Clone(n.streams) }

// Changing is the network with a node that does not conserve some components, as
// a mill does not conserve sizes. The flow of mass is conserved all the same.
//
// Units: none; components are names that measurements use.
//
// Range: any node.
//
// Errors: a node that is not in the network, no component.
//
// Source: the flowsheet.
func (n Network) Changing(node string, components ...string) (Network, error) {
	if !slices.Contains(n.nodes, node) {
		return Network{}, fmt.Errorf("balance: there is no node %q; there are %s", node, strings.Join(n.nodes, ", "))
	}
	if len(components) == 0 {
		return Network{}, fmt.Errorf("balance: say which components node %s changes", node)
	}
	changes := map[string]bool{}
	for key := range n.changes {
		changes[key] = true
	}
	for _, component := range components {
		changes[node+"\x00"+component] = true
	}
	n.changes = changes
	return n, nil
}

func (n Network) conserves(node, component string) bool { return !n.changes[node+"\x00"+component] }

// Closed is the network with a group of components that make up every stream, such
// as all size classes or all minerals: in each stream they add up to 100 %.
//
// Units: none; components are names that measurements use.
//
// Range: two components or more.
//
// Errors: fewer than two, a name twice or in two groups.
//
// Source: the definition of a complete analysis.
func (n Network) Closed(components ...string) (Network, error) {
	if len(components) < 2 {
		return Network{}, fmt.Errorf("balance: two components at least add up to 100 %%, and there are %d", len(components))
	}
	seen := map[string]bool{}
	for _, group := range append(slices.Clone(n.closed), components) {
		for _, component := range group {
			if seen[component] {
				return Network{}, fmt.Errorf("balance: component %s cannot be counted twice", component)
			}
			seen[component] = true
		}
	}
	n.closed = append(slices.Clone(n.closed), slices.Clone(components))
	return n, nil
}

// Measurement is one measured figure of a stream: its flow, or its assay of a
// component. Make one with Flow, Assay, Relatively, Exactly or Sizes.
type Measurement struct {
	Stream    string
	Component string            // empty for the flow
	Value     quantity.Quantity // as measured
	Deviation quantity.Quantity // its standard deviation, of the same kind; of a flow also a share of it in %
	Relative  bool              // Deviation is a share of the value
	Exact     bool              // not to be adjusted
}

// Flow is the measured mass flow of a stream, with its standard deviation in the
// same kind of unit or as a share of it in %. Where the value is uncertain, the deviation may be the zero
// Quantity, and is then that of the value.
func Flow(stream string, value, deviation quantity.Quantity) Measurement {
	return Measurement{Stream: stream, Value: value, Deviation: deviation}
}

// Assay is the measured share of a component in a stream: a metal, a mineral, a
// size class. Its standard deviation is of the same kind: 0.1 % for an assay of
// 4.0 ± 0.1 %. One that is a share of the assay is told by Relatively.
func Assay(stream, component string, value, deviation quantity.Quantity) Measurement {
	return Measurement{Stream: stream, Component: component, Value: value, Deviation: deviation}
}

// Relatively is a measurement whose standard deviation is a share of its value:
// Relatively(Assay("feed", "Sn", 0.43 %, 4 %)) is 0.43 ± 0.017 %.
func Relatively(m Measurement) Measurement {
	m.Relative = true
	return m
}

// Exactly is a measurement that is not to be adjusted: a basis of 100 t/h, water
// that holds no metal.
func Exactly(m Measurement) Measurement {
	m.Exact = true
	return m
}

// Sizes are the shares of the size classes of a stream as measurements, whose
// components are the names of the classes. All have the same standard deviation,
// but a class without mass is exact.
//
// Give the network Closed(d.Classes()...) to keep their sum at 100 %. As shares of one
// sieving add up by themselves, their sum is not counted as a balance that tests
// them.
func Sizes(stream string, d size.Distribution, deviation quantity.Quantity) []Measurement {
	classes := d.Classes()
	all := make([]Measurement, len(classes))
	for i, share := range d.Shares() {
		all[i] = Assay(stream, classes[i], share, deviation)
		all[i].Exact = fraction(share) == 0
	}
	return all
}

// of is what is measured, in words.
func (m Measurement) of() string {
	if m.Component == "" {
		return "flow of " + m.Stream
	}
	return m.Component + " in " + m.Stream
}

// mostlyNoise is how many times its value a standard deviation may be. A larger one
// is a share that was taken for percentage points.
const mostlyNoise = 3

// read is the value and its standard deviation in a unit.
func (m Measurement) read(unit string) (value, deviation float64, err error) {
	value, err = m.Value.Value(unit)
	if err != nil || m.Value.IsNothing() || !(value >= 0) {
		return 0, 0, fmt.Errorf("balance: %s: a figure in units such as %s, 0 or more, and %v is none", m.of(), orPlain(unit), m.Value)
	}
	if m.Component != "" && value > 1 {
		return 0, 0, fmt.Errorf("balance: %s: a share lies between 0 and 100 %%, and %v does not; write a percentage with its unit", m.of(), m.Value)
	}
	if m.Exact {
		return value, 0, nil
	}
	spread := m.Deviation
	if spread.IsNothing() {
		spread = m.Value.StdDev()
	}
	deviation, err = spread.Value(unit)
	if m.Relative || err != nil && m.Component == "" {
		if share, wrong := spread.Float(); wrong == nil {
			deviation, err = share*value, nil
		}
	}
	if err == nil && m.Component != "" && !m.Relative && value > 0 && deviation > mostlyNoise*value {
		return 0, 0, fmt.Errorf("balance: %s: a standard deviation of %v is many times the assay, %v, itself; if it is a share of the assay, say so with Relatively", m.of(), spread, m.Value)
	}
	if err != nil || !(deviation > 0) {
		return 0, 0, fmt.Errorf("balance: %s: its standard deviation is above 0 and of its kind, and %v is not; a figure that is not to be adjusted is Exactly", m.of(), spread)
	}
	return value, deviation, nil
}

func orPlain(unit string) string {
	if unit == "1" || unit == "" {
		return "%"
	}
	return unit
}
