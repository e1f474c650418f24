package sorting

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Sorter takes pieces out of a single layer on a belt by what a sensor reads.
type Sorter struct {
	Component string            // what the sensor sees: an element, oxide or mineral, as in stream.Stream's Grade
	Surface   bool              // it sees the share of the surface, as a camera does, of a mineral; else the share of the mass
	Threshold quantity.Quantity // reading that parts pieces, a share
	Noise     quantity.Quantity // standard deviation of a reading, a share; nothing for 0
	Waste     bool              // pieces below the threshold are ejected; else those above it

	Width, Speed quantity.Quantity // of the belt
	Hits         quantity.Quantity // share of the pieces meant that are ejected; nothing for all
	Reach        quantity.Quantity // area that one ejection sweeps, in which it takes others along; nothing for 0
	Cover        quantity.Quantity // greatest share of the belt under pieces; nothing for 90 %

	Finest, Coarsest quantity.Quantity // sizes beyond which pieces are not seen and stay; nothing for no limit

	Blow quantity.Quantity // energy of one ejection, as of compressed air; nothing for 0
	Idle quantity.Quantity // power drawn without ejections; nothing for 0
}

// belt is a sorter in numbers.
type belt struct {
	threshold, noise, width, speed, hits, reach, cover, finest, coarsest, blow, idle float64
	waste                                                                            bool
}

func (s Sorter) read() (belt, error) {
	r := fields.Of("sorting: a sorter")
	b := belt{threshold: r.Within("Threshold", s.Threshold, "1", 0, 1, math.NaN()), noise: r.AtLeast("Noise", s.Noise, "1", 0),
		width: r.Positive("Width", s.Width, "m"), speed: r.Positive("Speed", s.Speed, "m/s"),
		hits: r.Within("Hits", s.Hits, "1", 0, 1, 1), reach: r.AtLeast("Reach", s.Reach, "m2", 0), cover: r.Within("Cover", s.Cover, "1", 0, 0.9, 0.9),
		finest: r.AtLeast("Finest", s.Finest, "m", 0), coarsest: r.AtLeast("Coarsest", s.Coarsest, "m", math.Inf(1)),
		blow: r.AtLeast("Blow", s.Blow, "J", 0), idle: r.AtLeast("Idle", s.Idle, "W", 0), waste: s.Waste}
	if math.IsNaN(b.threshold) {
		r.Fail("Threshold, the reading that parts pieces, is missing")
	}
	if s.Component == "" {
		r.Fail("Component says what the sensor sees, and is missing")
	}
	return b, r.Err
}

// meant is the chance that a piece of a grade is to be ejected.
func (b belt) meant(grade float64) float64 {
	over := grade - b.threshold
	if b.waste {
		over = -over
	}
	if b.noise == 0 {
		if over > 0 || over == 0 && !b.waste {
			return 1
		}
		return 0
	}
	return math.Erfc(-over/b.noise/math.Sqrt2) / 2
}

// Meant is the chance that the sorter means to eject a piece of a grade, with the
// reading spread normally around the grade:
//
//	p = Φ((grade − Threshold)/Noise), or its complement where Waste is ejected
//
// Units: grade is a share, as in %; in %.
//
// Range: readings that are right on average.
//
// Errors: a sorter that lacks a field or has one out of range; a grade outside 0 to
// 100 %.
//
// Source: normal errors of measurement; common practice.
func (s Sorter) Meant(grade quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		one := s
		one.Threshold, one.Noise = fields.Keep(s.Threshold, v[1]), fields.Keep(s.Noise, v[2])
		b, err := one.read()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("sorting: a sorter")
		g := r.Within("the grade", v[0], "1", 0, 1, 0)
		return quantity.Of(100*b.meant(g), "%"), r.Err
	}, grade, s.Threshold, s.Noise)
}

// load is a feed on the belt: pieces by class.
type load struct {
	meant   []float64 // chance that a piece of a class is to be ejected; size i × particle j at i·n + j
	seen    []bool    // of each size
	covered float64   // share of the belt under pieces
	dense   float64   // pieces per area that are to be ejected
	ejects  float64   // pieces a second that are to be ejected
}

func (s Sorter) load(b belt, feed stream.Stream) (load, error) {
	grid := feed.Classes()
	n := grid.Particles()
	if known := grid.Minerals(); s.Surface && !slices.ContainsFunc(known, func(name string) bool { return strings.EqualFold(name, s.Component) }) {
		return load{}, fmt.Errorf("sorting: a sorter: a sensor of surfaces sees minerals, and %s is none of the feed's: %s", s.Component, strings.Join(known, ", "))
	}
	l := load{meant: make([]float64, grid.Sizes()*n), seen: make([]bool, grid.Sizes())}
	for j := range n {
		p := grid.Particle(j)
		grade, err := s.reading(p)
		if err != nil {
			return l, err
		}
		density, err := p.Density()
		if err != nil {
			return l, fmt.Errorf("sorting: a sorter: %w", err)
		}
		chance := b.meant(grade)
		for i := range grid.Sizes() {
			d := grid.Metres(i)
			pieces := feed.Flow(i, j) / (density.SI() * math.Pi * d * d * d / 6) // a second
			l.covered += pieces * math.Pi * d * d / 4 / (b.width * b.speed)
			if l.seen[i] = d >= b.finest && d <= b.coarsest; l.seen[i] {
				l.meant[i*n+j] = chance
				l.ejects += pieces * chance
			}
		}
	}
	l.dense = l.ejects / (b.width * b.speed)
	return l, nil
}

// reading is what the sensor sees of a particle on average.
func (s Sorter) reading(p stream.Particle) (float64, error) {
	if s.Surface {
		share, err := p.VolumeShare(s.Component)
		if err != nil {
			return 0, fmt.Errorf("sorting: a sorter: %w", err)
		}
		return share, nil
	}
	grade, err := p.Content(s.Component)
	if err != nil {
		return 0, fmt.Errorf("sorting: a sorter: %w", err)
	}
	return grade.SI(), nil
}

// loaded is the belt with what a feed puts on it.
func (s Sorter) loaded(feed stream.Stream) (belt, load, error) {
	if feed.Classes() == nil {
		return belt{}, load{}, fmt.Errorf("sorting: a sorter: the feed is no stream yet")
	}
	b, err := s.read()
	if err != nil {
		return belt{}, load{}, err
	}
	l, err := s.load(b, feed)
	return b, l, err
}

// Covered is the share of the belt that a feed lies on, in a single layer:
//
//	Σ (3/2)·m/(ρ·d·w·v)
//
// Units: in %.
//
// Range: spheres; 10 to 30 % is usual, so that pieces are read and taken singly.
//
// Errors: a sorter that lacks a field or has one out of range; particles without a
// density.
//
// Source: mass balance of the layer.
func (s Sorter) Covered(feed stream.Stream) (quantity.Quantity, error) {
	_, l, err := s.loaded(feed)
	return quantity.Of(100*l.covered, "%"), err
}

// Along is the chance that a piece that is not meant is taken along with one that
// is, from a belt on which pieces lie by chance:
//
//	c = 1 − exp(−h·n·A)
//
// with n the pieces per area that are to be ejected, h the share that is hit and A
// the area an ejection sweeps.
//
// Units: in %.
//
// Range: pieces small against the area swept.
//
// Errors: as Covered.
//
// Source: Poisson's law of points spread by chance; an assumption for belts.
func (s Sorter) Along(feed stream.Stream) (quantity.Quantity, error) {
	b, l, err := s.loaded(feed)
	return quantity.Of(100*b.along(l), "%"), err
}

func (b belt) along(l load) float64 { return -math.Expm1(-b.hits * l.dense * b.reach) }

// Products are the names of the products in the order of Apply: accepted is the
// part of pieces above the threshold, whichever is ejected.
func (s Sorter) Products() []string { return []string{"accepted", "rejected"} }

// Apply sorts a stream of pieces, each class by
//
//	ejected = h·p + (1 − h·p)·c
//
// with p as Meant and c as Along. Water stays on the belt.
//
// Units: a stream for each product.
//
// Range: a single layer; uncertain fields count with their means.
//
// Errors: a sorter that lacks a field or has one out of range; a belt covered more
// than Cover; a Component that no particle has, or is not known; particles without a
// density.
//
// Source: as Meant and Along.
func (s Sorter) Apply(feed stream.Stream) ([]stream.Stream, error) {
	b, l, err := s.loaded(feed)
	if err != nil {
		return nil, err
	}
	if l.covered > b.cover {
		return nil, fmt.Errorf("sorting: a sorter: %s would cover %.3g %% of the belt, and at most %.3g %% is to be; feed less, run faster, take a wider belt, or screen the fines out", feed.Name(), 100*l.covered, 100*b.cover)
	}
	n := feed.Classes().Particles()
	along := b.along(l)
	one := []float64{0}
	water := 1.0
	if !s.Waste {
		water = 0
	}
	return feed.Split(s.Products(), func(i, j int) []float64 {
		out := 0.0
		if l.seen[i] {
			hit := b.hits * l.meant[i*n+j]
			out = hit + (1-hit)*along
		}
		if one[0] = out; s.Waste {
			one[0] = 1 - out
		}
		return one
	}, []float64{water})
}

// Power is Idle and the ejections,
//
//	N = Idle + n·Blow
//
// Units: in kW.
//
// Range: one ejection for each piece meant.
//
// Errors: as Covered.
//
// Source: energy times rate.
func (s Sorter) Power(feed stream.Stream) (quantity.Quantity, error) {
	b, l, err := s.loaded(feed)
	return quantity.Of(b.idle+b.blow*l.ejects, "W").To("kW"), err
}
