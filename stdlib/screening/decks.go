package screening

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// products are the outlets of a deck, in their order.
func products() []string { return []string{"oversize", "undersize"} }

// CapacityDeck is a deck of a vibrating screen as plant screens perform, a unit operation
// of two products, oversize and undersize. It works with the means of its fields.
type CapacityDeck struct {
	Mesh      Mesh
	Area      quantity.Quantity
	Bulk      quantity.Quantity // bulk density of the feed
	Deck      int               // 1 the uppermost; left out: 1
	Spray     bool
	Condition Condition
	Gravity   quantity.Quantity // left out: the Earth's
	Carried   quantity.Quantity // water that stays with the oversize, as a share of its solids; left out: 10 %
}

// Products are the names of the two products.
func (d CapacityDeck) Products() []string { return products() }

// Apply parts a feed,
//
//	oversize = 1 − exp(−ln 2·(x/d50)^5.846),  d50 = 0.975·h·(1 − X)^0.511·K^(−0.148)
//
// with h the opening that a falling particle sees, X the near-size of the feed, and K the
// undersize fed per area over the capacity without the near-size factor. What is coarser
// than the opening stays above. Water goes with the undersize, but for what Carried holds.
//
// Units: as the feed.
//
// Range: as CapacityOf; K from 0.1 to 3, beyond which it is an error above and counts as
// 0.1 below.
//
// Errors: as CapacityOf; an area not above 0; a deck that is overloaded.
//
// Source: as CapacityOf (constants from memory).
func (d CapacityDeck) Apply(feed stream.Stream) ([]stream.Stream, error) {
	m, cut, err := d.cut(feed)
	if err != nil {
		return nil, err
	}
	return part(feed, or(d.Carried, quantity.Of(10, "%")), func(x float64) float64 {
		if x >= m.opening {
			return 1
		}
		return -math.Expm1(-math.Ln2 * math.Pow(x/cut, 5.846))
	})
}

// Cut is d50, the size that goes to both products in equal shares.
//
// Units: in mm.
//
// Range: as Apply.
//
// Errors: as Apply.
//
// Source: as Apply.
func (d CapacityDeck) Cut(feed stream.Stream) (quantity.Quantity, error) {
	_, cut, err := d.cut(feed)
	return quantity.Of(1e3*cut, "mm"), err
}

// Loading is K, the undersize fed per area over what the deck can pass.
//
// Units: a plain number.
//
// Range: near 1 the deck works as it should.
//
// Errors: as Apply, but for the overload.
//
// Source: as Apply.
func (d CapacityDeck) Loading(feed stream.Stream) (quantity.Quantity, error) {
	_, loading, _, err := d.load(feed)
	return quantity.Number(loading), err
}

// load is the mesh, K and the near-size.
func (d CapacityDeck) load(feed stream.Stream) (m mesh, loading, near float64, err error) {
	if feed.Classes() == nil {
		return m, 0, 0, errors.New("screening: the feed of the deck is an empty stream")
	}
	if m, err = readMesh(d.Mesh.inputs()); err != nil {
		return m, 0, 0, err
	}
	area, err := positive(d.Area, "m²", "area of the deck")
	if err != nil {
		return m, 0, 0, err
	}
	h := m.through()
	below := func(x float64) float64 { return finer(feed, x) }
	rate := feed.Solids().SI()
	if rate == 0 {
		return m, 0, 0, nil
	}
	near = below(1.25*h) - below(0.75*h)
	// A feed that is nearly all oversize is judged as one with 1 % to pass.
	n := load{oversize: min(1-below(h), 0.99), half: below(h / 2), near: near, deck: d.Deck, spray: d.Spray}
	if n.bulk, n.gravity, err = surroundings(d.Bulk, or(d.Gravity, earth)); err != nil {
		return m, 0, 0, err
	}
	factors, err := n.factors(1e3 * h)
	if err != nil {
		return m, 0, 0, err
	}
	capacity, err := d.Condition.factor()
	if err != nil {
		return m, 0, 0, err
	}
	for _, x := range factors[:len(factors)-1] { // all but the near-size factor
		capacity *= x
	}
	return m, rate * below(h) / area / (capacity / 3.6), near, nil // t/(h·m²) in kg/(s·m²)
}

func (d CapacityDeck) cut(feed stream.Stream) (m mesh, cut float64, err error) {
	m, loading, near, err := d.load(feed)
	if err != nil {
		return m, 0, err
	}
	if loading > 3 {
		return m, 0, fmt.Errorf("screening: the deck is fed %.3g times the undersize it can pass; the model ends at 3 times: it needs more area", loading)
	}
	h := m.through()
	cut = 0.975 * h * math.Pow(1-min(near, 0.99), 0.511) * math.Pow(max(loading, 0.1), -0.148)
	return m, min(cut, m.opening), nil
}

// TrialDeck is a deck on which particles have a chance to fall through at every throw, a
// unit operation of two products, oversize and undersize. It works with the means of its
// fields.
type TrialDeck struct {
	Mesh    Mesh
	Motion  Motion // and the gravity; a Slope that is left out is that of the Mesh, and so the other way
	Length  quantity.Quantity
	Width   quantity.Quantity
	Bulk    quantity.Quantity // bulk density of the moving bed
	Ease    quantity.Quantity // tries that count per throw of a particle next to the mesh, to be set by a sieving; left out: 1
	Blinded quantity.Quantity // share of the openings that are plugged; left out: 0
	Carried quantity.Quantity // as in CapacityDeck
}

// Products are the names of the two products.
func (d TrialDeck) Products() []string { return products() }

// Apply parts a feed by the tries that each particle has on its way,
//
//	oversize = (1 − p)^m,  m = Ease·(1 − Blinded)·(length/way of a throw)·min(1, a/depth)
//
// with p as Mesh.Chance, a the opening, and the depth of the bed from the mean of feed and
// oversize at the speed of travel: of a bed, a layer as thick as an opening tries at each
// throw, and throws mix the bed.
//
// Units: as the feed.
//
// Range: as Motion.Travel. Without a sieving to set Ease it tells how motion, load and
// gravity change a result rather than the result itself.
//
// Errors: as Mesh.Chance and Motion.Travel; lengths, a density or an ease not above 0; a
// slope of the mesh that is not that of the motion.
//
// Source: A.M. Gaudin (1939); W.J. Whiten, J. S. Afr. Inst. Min. Metall. 72 (1972) 257,
// for the form; depth by the flow of mass. The layer that tries is an assumption.
func (d TrialDeck) Apply(feed stream.Stream) ([]stream.Stream, error) {
	n, err := d.numbers(feed)
	if err != nil {
		return nil, err
	}
	depth := n.depth(feed)
	return part(feed, or(d.Carried, quantity.Of(10, "%")), func(x float64) float64 {
		return stays(n.mesh.chance(x), n.tries(depth))
	})
}

// Depth is the depth of the bed on the deck.
//
// Units: in mm.
//
// Range: as Apply. Decks are kept to 4 openings of depth at their end (common practice).
//
// Errors: as Apply.
//
// Source: as Apply.
func (d TrialDeck) Depth(feed stream.Stream) (quantity.Quantity, error) {
	n, err := d.numbers(feed)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(1e3*n.depth(feed), "mm"), nil
}

// trial is a TrialDeck in numbers.
type trial struct {
	mesh               mesh
	throws, ease       float64 // throws on the whole deck; tries per throw at the mesh
	speed, width, bulk float64
}

func (d TrialDeck) numbers(feed stream.Stream) (n trial, err error) {
	if feed.Classes() == nil {
		return n, errors.New("screening: the feed of the deck is an empty stream")
	}
	d.Mesh.Slope, d.Motion.Slope = or(d.Mesh.Slope, d.Motion.Slope), or(d.Motion.Slope, d.Mesh.Slope)
	if n.mesh, err = readMesh(d.Mesh.inputs()); err != nil {
		return n, err
	}
	m, err := readMotion(d.Motion.inputs())
	if err != nil {
		return n, err
	}
	if math.Abs(m.slope-n.mesh.slope) > 1e-9 {
		return n, fmt.Errorf("screening: the slope of the mesh, %v, is not that of the motion, %v", d.Mesh.Slope, d.Motion.Slope)
	}
	if k := m.number(); k <= 1 {
		return n, tooWeak(k)
	}
	length, err := positive(d.Length, "m", "length of the deck")
	if err != nil {
		return n, err
	}
	if n.width, err = positive(d.Width, "m", "width of the deck"); err != nil {
		return n, err
	}
	if n.bulk, err = positive(d.Bulk, "kg/m³", "bulk density"); err != nil {
		return n, err
	}
	if n.ease, err = positive(or(d.Ease, quantity.Number(1)), "1", "ease"); err != nil {
		return n, err
	}
	blinded, err := share(or(d.Blinded, quantity.Number(0)), "blinded share")
	if err != nil {
		return n, err
	}
	n.ease *= 1 - blinded
	way, turns := m.travel()
	if way < 1e-9*m.amplitude {
		return n, errors.New("screening: the motion throws straight up and the deck is level, so nothing travels; give it a slope or an angle of throw")
	}
	n.throws, n.speed = length/way, way*m.turning/(2*math.Pi*turns)
	return n, nil
}

func (n trial) tries(depth float64) float64 {
	if depth <= n.mesh.opening {
		return n.throws * n.ease
	}
	return n.throws * n.ease * n.mesh.opening / depth
}

// depth is that of the mean of feed and oversize. A thinner bed lets more through, and
// gets thinner; where the two meet is found by false position (Illinois).
func (n trial) depth(feed stream.Stream) float64 {
	full := feed.Solids().SI() / (n.bulk * n.width * n.speed)
	if full == 0 {
		return 0
	}
	c, all := feed.Classes(), 0.0
	flows, logs := make([]float64, c.Sizes()), make([][parts]float64, c.Sizes())
	for i := range flows {
		for j := range c.Particles() {
			flows[i] += feed.Flow(i, j)
		}
		all += flows[i]
		for k := range parts {
			logs[i][k] = math.Log1p(-n.mesh.chance(within(c, i, k)))
		}
	}
	off := func(depth float64) float64 {
		tries, kept := n.tries(depth), 0.0
		for i, flow := range flows {
			for _, x := range logs[i] {
				kept += flow * math.Exp(tries*x) / parts
			}
		}
		return full*(1+kept/all)/2 - depth
	}
	low, high := full/2, full
	above, below := off(low), off(high)
	for range 100 {
		if above <= 0 || below >= 0 || high-low < 1e-13*full {
			break
		}
		middle := (low*below - high*above) / (below - above)
		at := off(middle)
		switch {
		case math.Abs(at) < 1e-13*full:
			return middle
		case at > 0:
			low, above, below = middle, at, below/2
		default:
			high, below, above = middle, at, above/2
		}
	}
	if below >= 0 {
		return high
	}
	return low
}

// part splits a stream by a curve of the share to the oversize, averaged over each class.
func part(feed stream.Stream, carried quantity.Quantity, over func(x float64) float64) ([]stream.Stream, error) {
	c := feed.Classes()
	shares := make([]float64, c.Sizes())
	kept := 0.0
	for i := range shares {
		shares[i] = averaged(c, i, over)
		for j := range c.Particles() {
			kept += feed.Flow(i, j) * shares[i]
		}
	}
	holds, err := share(carried, "water carried with the oversize")
	if err != nil {
		return nil, err
	}
	water := []float64{0}
	if flow := feed.WaterFlow(); flow > 0 {
		water[0] = min(holds*kept/flow, 1)
	}
	return feed.Split(products(), func(i, _ int) []float64 { return []float64{shares[i]} }, water)
}

// parts is in how many points of a size class a curve is read.
const parts = 32

// within is one of the points of a class, evenly by the logarithm of size, and by size in
// the last class, which runs down to 0.
func within(c *stream.Classes, i, k int) float64 {
	high, at := c.Upper(i).SI(), (float64(k)+0.5)/parts
	if i+1 == c.Sizes() {
		return high * at
	}
	low := c.Upper(i + 1).SI()
	return low * math.Pow(high/low, at)
}

// averaged is the mean of a curve over a size class.
func averaged(c *stream.Classes, i int, curve func(x float64) float64) float64 {
	total := 0.0
	for k := range parts {
		total += curve(within(c, i, k))
	}
	return total / parts
}

// finer is the share of a stream's solids finer than a size.
func finer(s stream.Stream, x float64) float64 {
	c := s.Classes()
	below, all := 0.0, 0.0
	for i := range c.Sizes() {
		high, low := c.Upper(i).SI(), 0.0
		if i+1 < c.Sizes() {
			low = c.Upper(i + 1).SI()
		}
		part := 0.0
		switch {
		case x >= high:
			part = 1
		case x > low && low > 0:
			part = math.Log(x/low) / math.Log(high/low)
		case x > low:
			part = x / high
		}
		for j := range c.Particles() {
			flow := s.Flow(i, j)
			below, all = below+flow*part, all+flow
		}
	}
	if all == 0 {
		return 0
	}
	return below / all
}
