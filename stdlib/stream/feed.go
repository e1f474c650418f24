package stream

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// Feed is the stream of a rate of dry solids whose particle classes all have the
// same size distribution.
//
// Units: rate is a mass flow of dry solids; sizes as size.Distribution holds
// them; shares are shares of mass, one for each particle class; water as in New.
//
// Range: shares that add up to 100 % within one part in a million. Sizes told by
// volume stand for those by mass here, as all sizes hold the same particles. The
// distribution need not be told on the openings of the classes: it is read
// between its sieves by its own interpolation. Uncertain figures are taken at
// their means.
//
// Errors: a rate that is no mass flow or below 0; shares that are missing, out of
// range or do not add up; solids above the top size; an opening finer than the
// finest sieve of a distribution with something in its pan.
//
// Source: common practice.
func Feed(name string, c *Classes, rate quantity.Quantity, sizes size.Distribution, shares []quantity.Quantity, water quantity.Quantity) (Stream, error) {
	if c == nil {
		return Stream{}, fmt.Errorf("stream: %s: a stream needs classes; NewClasses makes them", name)
	}
	numbers, err := c.sharesOf(name, shares)
	if err != nil {
		return Stream{}, err
	}
	rows := make([][]float64, c.Sizes())
	for i := range rows {
		rows[i] = numbers
	}
	return c.feed(name, rate, sizes, rows, water)
}

// FeedBySize is Feed for particle classes whose shares differ from size to size,
// as they do when minerals break or free themselves at different sizes.
//
// Units: as Feed; a row of shares for each size class, coarse to fine.
//
// Range: as Feed; the shares of each size add up by themselves. Those of a size
// without mass are not used, but must be there.
//
// Errors: as Feed, with the size; sizes told by volume.
//
// Source: common practice.
func FeedBySize(name string, c *Classes, rate quantity.Quantity, sizes size.Distribution, shares [][]quantity.Quantity, water quantity.Quantity) (Stream, error) {
	if c == nil {
		return Stream{}, fmt.Errorf("stream: %s: a stream needs classes; NewClasses makes them", name)
	}
	if len(shares) != c.Sizes() {
		return Stream{}, fmt.Errorf("stream: %s: %d size classes need as many rows of shares; there are %d", name, c.Sizes(), len(shares))
	}
	if err := byMass(name, sizes); err != nil {
		return Stream{}, err
	}
	rows := make([][]float64, c.Sizes())
	for i, row := range shares {
		numbers, err := c.sharesOf(name+", size "+c.Size(i), row)
		if err != nil {
			return Stream{}, err
		}
		rows[i] = numbers
	}
	return c.feed(name, rate, sizes, rows, water)
}

// sharesOf reads one share for each particle class.
func (c *Classes) sharesOf(where string, shares []quantity.Quantity) ([]float64, error) {
	if len(shares) != c.Particles() {
		return nil, fmt.Errorf("stream: %s: %d particle classes need as many shares; there are %d", where, c.Particles(), len(shares))
	}
	numbers := make([]float64, len(shares))
	for j, share := range shares {
		value, err := share.Value("wt%")
		if err != nil {
			return nil, fmt.Errorf("stream: %s, %s: a share of mass is needed, as in %%, and %v is not", where, c.particles[j].Name, share)
		}
		if !(value >= 0 && value <= 100*(1+shareTolerance)) {
			return nil, fmt.Errorf("stream: %s, %s: a share lies between 0 and 100 %%, and %v does not", where, c.particles[j].Name, share)
		}
		numbers[j] = value / 100
	}
	if total := numeric.Sum(numbers...); math.Abs(total-1) > shareTolerance {
		return nil, fmt.Errorf("stream: %s: the shares of %s add up to %.6g %%, not 100 %%", where, quoted(c.ParticleNames()), 100*total)
	}
	return numbers, nil
}

func (c *Classes) feed(name string, rate quantity.Quantity, sizes size.Distribution, shares [][]float64, water quantity.Quantity) (Stream, error) {
	flow, err := rate.Value("kg/s")
	if err != nil || !(flow >= 0) || math.IsInf(flow, 0) {
		return Stream{}, fmt.Errorf("stream: %s: the rate of a feed is a flow of dry mass, 0 or above, and %v is not", name, rate)
	}
	bySize, err := c.spread(name, sizes)
	if err != nil {
		return Stream{}, err
	}
	wet, err := waterFlow(name, water)
	if err != nil {
		return Stream{}, err
	}
	s := Stream{name: name, classes: c, water: wet, unit: rate.Unit().String()}
	s.flows = make([]float64, 0, c.Sizes()*c.Particles())
	for i, share := range bySize {
		for _, part := range shares[i] {
			s.flows = append(s.flows, flow*share*part)
		}
	}
	return s, nil
}

// spread is the mass share of each size class.
func (c *Classes) spread(name string, sizes size.Distribution) ([]float64, error) {
	passing := make([]float64, c.Sizes()+1) // the last stays 0: nothing is finer than 0
	for i, opening := range c.openings {
		value, err := passingAt(sizes, opening, c.metres[i])
		if err != nil {
			return nil, fmt.Errorf("stream: %s: %w", name, err)
		}
		passing[i] = value
	}
	if passing[0] < 1-1e-9 {
		return nil, fmt.Errorf("stream: %s: %.4g %% of the solids are coarser than the top size %v; begin the classes with a coarser opening", name, 100*(1-passing[0]), c.openings[0])
	}
	passing[0] = 1
	shares := make([]float64, c.Sizes())
	for i := range shares {
		shares[i] = max(passing[i]-passing[i+1], 0)
	}
	return shares, nil
}

// passingAt is the share finer than an opening; beyond the sieves it is known
// only where the open class there is empty.
func passingAt(sizes size.Distribution, opening quantity.Quantity, metres float64) (float64, error) {
	sieves, shares := sizes.Openings(), sizes.Shares()
	if len(sieves) == 0 {
		return 0, fmt.Errorf("the size distribution is empty; make it with size.New")
	}
	coarsest, finest := sieves[0], sieves[len(sieves)-1]
	switch top, pan := shares[0].Certain().SI(), shares[len(shares)-1].Certain().SI(); {
	case numeric.AlmostEqual(metres, coarsest.SI(), 1e-9):
		opening = coarsest
	case numeric.AlmostEqual(metres, finest.SI(), 1e-9):
		opening = finest
	case metres > coarsest.SI() && top == 0:
		return 1, nil
	case metres > coarsest.SI():
		return 0, fmt.Errorf("%.4g %% stay on the coarsest sieve, %v, and how they spread up to %v is not known; give the distribution a coarser sieve", 100*top, coarsest, opening)
	case metres < finest.SI() && pan == 0:
		return 0, nil
	case metres < finest.SI():
		return 0, fmt.Errorf("%.4g %% pass the finest sieve, %v, and how they spread down to %v is not known; end the classes at that sieve, or fit a size.Model", 100*pan, finest, opening)
	}
	share, err := sizes.PassingAt(opening)
	return share.Certain().SI(), err
}
