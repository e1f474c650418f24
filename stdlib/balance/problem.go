package balance

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// variable is one figure of a reconciliation: the flow of a stream or its share of
// a component.
type variable struct {
	stream, component int // component −1 is the flow
	measured, exact   bool
	given, deviation  float64
	value             float64 // as adjusted so far
	scale             float64 // what it is counted in: its deviation, or its usual size
	unit              quantity.Unit
	place             int // among those that may change, or −1
}

// term is a coefficient times one variable, or times two.
type term struct {
	factor float64
	a, b   int // b is −1 for a term of one
}

// constraint says that terms add up to total.
type constraint struct {
	node, component int // component −1 the mass; node −1 a sum to 100 %
	terms           []term
	total           float64
}

// problem is a network with its measurements as numbers: flows in the unit of the
// first flow, shares plain.
type problem struct {
	network     Network
	components  []string
	flowUnit    quantity.Unit
	variables   []variable // flows first, then by component and stream
	constraints []constraint
	weights     []correlated
}

func (p *problem) at(stream, component int) int { return (component+1)*len(p.network.streams) + stream }

func newProblem(n Network, measurements []Measurement) (*problem, error) {
	p := &problem{network: n}
	streams := map[string]int{}
	for i, s := range n.streams {
		streams[s.Name] = i
	}
	hasFlow := false
	for _, m := range measurements {
		if _, known := streams[m.Stream]; !known {
			return nil, fmt.Errorf("balance: there is no stream %q; there are %s", m.Stream, strings.Join(names(n.streams), ", "))
		}
		switch {
		case m.Component == "" && !hasFlow:
			p.flowUnit, hasFlow = m.Value.Unit(), true
		case m.Component != "" && !slices.Contains(p.components, m.Component):
			p.components = append(p.components, m.Component)
		}
	}
	if !hasFlow {
		return nil, errors.New("balance: no flow is measured; give one, as 100 t/h for the feed, Exactly")
	}
	for _, group := range n.closed {
		for _, component := range group {
			if !slices.Contains(p.components, component) {
				return nil, fmt.Errorf("balance: %s is to add up to 100 %% with others, and no stream is assayed for it", component)
			}
		}
	}
	for component := -1; component < len(p.components); component++ {
		for stream := range n.streams {
			p.variables = append(p.variables, variable{stream: stream, component: component})
		}
	}
	for _, m := range measurements {
		if err := p.measure(m, streams[m.Stream]); err != nil {
			return nil, err
		}
	}
	p.constrain()
	if err := p.start(); err != nil {
		return nil, err
	}
	return p, p.correlate(measurements, streams)
}

func names(streams []Stream) []string {
	all := make([]string, len(streams))
	for i, s := range streams {
		all[i] = s.Name
	}
	return all
}

func (p *problem) measure(m Measurement, stream int) error {
	component, unit := -1, p.flowUnit.String()
	if m.Component != "" {
		component, unit = slices.Index(p.components, m.Component), "1"
	}
	v := &p.variables[p.at(stream, component)]
	if v.measured {
		return fmt.Errorf("balance: %s is given twice", m.of())
	}
	value, deviation, err := m.read(unit)
	if err != nil {
		return err
	}
	v.measured, v.exact, v.given, v.deviation = true, m.Exact, value, deviation
	v.value, v.scale, v.unit = value, deviation, m.Value.Unit()
	return nil
}

// constrain writes down what each node conserves and what adds up to 100 %.
func (p *problem) constrain() {
	for component := -1; component < len(p.components); component++ {
		for node, name := range p.network.nodes {
			if component >= 0 && !p.network.conserves(name, p.components[component]) {
				continue
			}
			c := constraint{node: node, component: component}
			for stream, s := range p.network.streams {
				t := term{a: p.at(stream, -1), b: -1}
				if component >= 0 {
					t.b = p.at(stream, component)
				}
				switch name {
				case s.To:
					t.factor = 1
				case s.From:
					t.factor = -1
				default:
					continue
				}
				c.terms = append(c.terms, t)
			}
			p.constraints = append(p.constraints, c)
		}
	}
	for _, group := range p.network.closed {
		for stream := range p.network.streams {
			c := constraint{node: -1, component: -1, total: 1}
			for _, component := range group {
				c.terms = append(c.terms, term{1, p.at(stream, slices.Index(p.components, component)), -1})
			}
			p.constraints = append(p.constraints, c)
		}
	}
}

// start gives figures that were not measured a usual size to begin with.
func (p *problem) start() error {
	largest := 0.0
	for i := range p.network.streams {
		if v := p.variables[i]; v.measured {
			largest = max(largest, v.given)
		}
	}
	if largest == 0 {
		return errors.New("balance: all measured flows are 0; give one that is not")
	}
	place := 0
	for i := range p.variables {
		v := &p.variables[i]
		if !v.measured {
			v.scale, v.unit = largest, p.flowUnit
			v.value = largest / 2
			if v.component >= 0 {
				if err := p.usualShare(v); err != nil {
					return err
				}
			}
		}
		v.place = -1
		if !v.exact {
			v.place, place = place, place+1
		}
	}
	if place == 0 {
		return errors.New("balance: every figure is exact, so there is nothing to adjust")
	}
	p.balanceFlows()
	return nil
}

// usualShare is the mean of the component in the streams that were assayed.
func (p *problem) usualShare(v *variable) error {
	sum, count := 0.0, 0
	for stream := range p.network.streams {
		other := p.variables[p.at(stream, v.component)]
		if other.measured {
			sum, count, v.unit = sum+other.given, count+1, other.unit
		}
	}
	if sum == 0 {
		return fmt.Errorf("balance: all assays of %s are 0, which balance nothing; leave it out", p.components[v.component])
	}
	v.value, v.scale = sum/float64(count), sum/float64(count)
	return nil
}

// balanceFlows moves the flows that were not measured to where the masses nearly
// balance, from which the search for all figures finds its way.
func (p *problem) balanceFlows() {
	flows := *p
	flows.variables = slices.Clone(p.variables[:len(p.network.streams)])
	flows.constraints, flows.weights = nil, nil
	for _, c := range p.constraints {
		if c.node >= 0 && c.component < 0 {
			flows.constraints = append(flows.constraints, c)
		}
	}
	place := 0
	for i := range flows.variables {
		v := &flows.variables[i]
		if v.place >= 0 {
			v.place, place = place, place+1
		}
		if !v.measured { // pulled to a middling flow
			v.measured, v.given, v.deviation = true, v.value, v.scale
		}
	}
	if place == 0 {
		return
	}
	if s, ok := flows.step(numeric.NewSymmetric(place + len(flows.constraints))); ok {
		for i := range flows.variables {
			if v := &p.variables[i]; !v.measured {
				moved := v.value + s.change[i]
				v.value = max(moved, v.scale/1000)
			}
		}
	}
}
