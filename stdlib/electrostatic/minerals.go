package electrostatic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Charge is the charge per surface that grains of a mineral have got, as measured
// in a Faraday cup on the feed as it enters. It varies from grain to grain
// normally.
type Charge struct {
	Name         string            // of the mineral
	Mean, Spread quantity.Quantity // as in µC/m²; Spread is the standard deviation, nothing for 0
}

// charged is the charge of a class of particles: a mean and a standard deviation,
// C/m², and the particles' density.
type charged struct{ mean, spread, density float64 }

// charges are those of the particle classes. A grain of several minerals shows
// each of them in proportion to its volume.
func charges(c *stream.Classes, stated []Charge, of string) ([]charged, error) {
	all := make([]charged, c.Particles())
	for j := range all {
		p := c.Particle(j)
		density, err := p.Density()
		if err != nil {
			return nil, fmt.Errorf("electrostatic: %s: %w", of, err)
		}
		all[j].density = density.SI()
		for _, part := range p.Parts {
			one, err := chargeOf(part.Mineral.Name, stated, of)
			if err != nil {
				return nil, fmt.Errorf("%w (in %s)", err, p.Name)
			}
			share, err := p.VolumeShare(part.Mineral.Name)
			if err != nil {
				return nil, fmt.Errorf("electrostatic: %s: %w", of, err)
			}
			all[j].mean += share * one.mean
			all[j].spread += share * one.spread
		}
	}
	return all, nil
}

func chargeOf(name string, stated []Charge, of string) (charged, error) {
	for _, one := range stated {
		if one.Name == name {
			r := fields.Of("electrostatic: " + of)
			return charged{mean: r.Number("the charge of "+name, one.Mean, "C/m2"), spread: r.AtLeast("the spread of the charge of "+name, one.Spread, "C/m2", 0)}, r.Err
		}
	}
	return charged{}, fmt.Errorf("electrostatic: %s: Charges says nothing of %s; measure its charge per surface", of, name)
}

// above is the chance that a charge exceeds a threshold where none beyond the
// limit stays on a grain.
func (c charged) above(threshold, limit float64) float64 {
	switch {
	case threshold >= limit:
		return 0
	case threshold < -limit:
		return 1
	case c.spread == 0 && c.mean > threshold:
		return 1
	case c.spread == 0:
		return 0
	}
	return math.Erfc((threshold-c.mean)/c.spread/math.Sqrt2) / 2
}

// dampest is the most water, by mass of solids, that separation by charge
// takes; common practice, no published limit.
const dampest = 0.01

// ready refuses streams that are none, or damp.
func ready(feed stream.Stream, of string) error {
	if feed.Classes() == nil {
		return fmt.Errorf("electrostatic: %s: the feed is no stream yet", of)
	}
	if feed.WaterFlow() > dampest*feed.Solids().SI() {
		return fmt.Errorf("electrostatic: %s: %s has %v of water with %v of solids; films of water carry charge off. Dry it below 1 %%", of, feed.Name(), feed.Water(), feed.Solids())
	}
	return nil
}

// parted splits a stream into three by the shares of each class that go to the
// first two; water goes with the solids.
func parted(feed stream.Stream, names []string, share func(i, j int) (first, second float64)) ([]stream.Stream, error) {
	c := feed.Classes()
	n := c.Particles()
	shares := make([][2]float64, c.Sizes()*n)
	sums, total := [2]float64{}, 0.0
	for i := range c.Sizes() {
		for j := range n {
			a, b := share(i, j)
			shares[i*n+j] = [2]float64{a, b}
			flow := feed.Flow(i, j)
			sums[0], sums[1], total = sums[0]+a*flow, sums[1]+b*flow, total+flow
		}
	}
	if total == 0 {
		total = 1
	}
	return feed.Split(names, func(i, j int) []float64 { return shares[i*n+j][:] }, []float64{sums[0] / total, sums[1] / total})
}
