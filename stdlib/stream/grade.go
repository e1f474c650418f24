package stream

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// massOf is the flow of what has the given content in each particle class.
func (s Stream) massOf(content []float64) float64 {
	var total float64
	n := len(content)
	for at, flow := range s.flows {
		total += flow * content[at%n]
	}
	return total
}

// amount is the flow in kg/s of a component, or of "solids" or "water".
func (s Stream) amount(what string) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	switch strings.ToLower(strings.TrimSpace(what)) {
	case "solids":
		return s.solids(), nil
	case "water":
		return s.water, nil
	}
	content, err := s.classes.contentOf(what)
	if err != nil {
		return 0, err
	}
	return s.massOf(content), nil
}

// Rate is the flow of a mineral, an element or an oxide, or of "solids" or
// "water".
//
// Units: a mass flow.
//
// Range: as Particle.Content.
//
// Errors: a text that names none of these.
//
// Source: the mass balance over the classes; atomic weights of IUPAC 2021.
func (s Stream) Rate(what string) (quantity.Quantity, error) {
	flow, err := s.amount(what)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return s.rate(flow), nil
}

// Grade is the mass share of a mineral, an element or an oxide in the dry solids,
//
//	grade = Σ flow·content / Σ flow
//
// Units: in %.
//
// Range: from 0 to 100 %.
//
// Errors: a text that names none of these; a stream without solids.
//
// Source: the mass balance over the classes; atomic weights of IUPAC 2021.
func (s Stream) Grade(what string) (quantity.Quantity, error) {
	if err := s.hasSolids("grade"); err != nil {
		return quantity.Quantity{}, err
	}
	content, err := s.classes.contentOf(what)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(100*s.massOf(content)/s.solids(), "%"), nil
}

// SizeDistribution is the distribution of the dry solids over the sizes.
//
// Units: masses in the unit of the stream's rate.
//
// Range: the class above the top size is empty; the last one stands for the pan.
//
// Errors: a stream without solids.
//
// Source: the sum over the particle classes.
func (s Stream) SizeDistribution() (size.Distribution, error) {
	if err := s.hasSolids("size distribution"); err != nil {
		return size.Distribution{}, err
	}
	ones := make([]float64, s.classes.Particles())
	for j := range ones {
		ones[j] = 1
	}
	return s.sizesOf(ones)
}

// SizeDistributionOf is the distribution of a mineral, element or oxide over the
// sizes, or that of a particle class where the name is that of one and of no
// mineral.
//
// Units: masses in the unit of the stream's rate.
//
// Range: as SizeDistribution.
//
// Errors: a text that names none of these; a stream that holds none of it.
//
// Source: the sum over the particle classes.
func (s Stream) SizeDistributionOf(what string) (size.Distribution, error) {
	if err := s.hasSolids("size distribution"); err != nil {
		return size.Distribution{}, err
	}
	content, err := s.classes.contentOf(what)
	if err != nil {
		j, unknown := s.classes.FindParticle(what)
		if unknown != nil {
			return size.Distribution{}, err
		}
		content = make([]float64, s.classes.Particles())
		content[j] = 1
	}
	if s.massOf(content) == 0 {
		return size.Distribution{}, fmt.Errorf("stream: %s: there is no %s, so it has no size distribution", s.name, what)
	}
	return s.sizesOf(content)
}

// bySize is the flow in each size class of what has the given content.
func (s Stream) bySize(content []float64) []float64 {
	out := make([]float64, s.sizes())
	n := len(content)
	for at, flow := range s.flows {
		out[at/n] += flow * content[at%n]
	}
	return out
}

func (s Stream) sizesOf(content []float64) (size.Distribution, error) {
	masses := []quantity.Quantity{s.rate(0)}
	for _, flow := range s.bySize(content) {
		masses = append(masses, s.rate(flow))
	}
	return size.New(s.classes.openings, masses)
}

// GradeBySize is the grade of each size class.
//
// Units: in %, one for each size class, coarse to fine.
//
// Range: from 0 to 100 %; not a number where the size class is empty.
//
// Errors: as Grade.
//
// Source: the mass balance over the particle classes of each size.
func (s Stream) GradeBySize(what string) ([]quantity.Quantity, error) {
	if err := s.hasSolids("grade"); err != nil {
		return nil, err
	}
	content, err := s.classes.contentOf(what)
	if err != nil {
		return nil, err
	}
	grades := make([]quantity.Quantity, s.sizes())
	n := len(content)
	for i := range grades {
		var mass, whole float64
		for j, flow := range s.flows[i*n : (i+1)*n] {
			mass += flow * content[j]
			whole += flow
		}
		grades[i] = quantity.Of(math.NaN(), "%")
		if whole > 0 {
			grades[i] = quantity.Of(100*mass/whole, "%")
		}
	}
	return grades, nil
}

// Recovery is the share of a mineral, element or oxide of the feed that a product
// holds; for "solids" it is the yield, for "water" the share of the water.
//
// Units: in %.
//
// Range: from 0 to 100 % where the product comes from that feed. The two may be
// told on different classes.
//
// Errors: a text that names none of these; a feed that holds none of it.
//
// Source: the definition of recovery; common practice.
func Recovery(product, feed Stream, what string) (quantity.Quantity, error) {
	in, err := feed.amount(what)
	if err != nil {
		return quantity.Quantity{}, err
	}
	out, err := product.amount(what)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if in == 0 {
		return quantity.Quantity{}, fmt.Errorf("stream: %s: the feed holds no %s, so there is no recovery of it", feed.name, what)
	}
	return quantity.Of(100*out/in, "%"), nil
}
