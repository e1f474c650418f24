package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Crusher is a jaw, gyratory, cone or roll crusher, a unit operation of one product.
// Particles finer than Fine fall through, coarser than Coarse are always broken, and
// what is broken comes back to be sorted again,
//
//	p = (I − C)·(I − B·C)⁻¹·f,  C = 1 − ((Coarse − x)/(Coarse − Fine))^k
//
// with B the fragments of one nip, by T10 and Family. It works with the means of its
// fields.
type Crusher struct {
	Fine   quantity.Quantity // the closed side setting, or the gap of rolls
	Coarse quantity.Quantity // the coarsest product, near the open side setting
	Shape  quantity.Quantity // k, a plain number; left out: 2.3
	T10    quantity.Quantity // of one nip; more for harder squeezing, some 10 to 25 %
	Family Family
	Impact Impact            // energy of breakage by drop weight, for the power only
	Excess quantity.Quantity // power drawn over that of drop weights, a plain number; left out: 1.3
	Idle   quantity.Quantity // power without feed; left out: 0
}

// Products is the name of the one product.
func (m Crusher) Products() []string { return []string{"crushed"} }

// crusher is a Crusher on the classes of a stream.
type crusher struct {
	uppers  []float64
	breaks  []float64 // C by class
	columns [][]float64
	t10     float64
}

func (m Crusher) numbers(c *stream.Classes) (n crusher, err error) {
	fine, err := positive(m.Fine, length, "size Fine of a crusher")
	if err != nil {
		return n, err
	}
	coarse, err := positive(m.Coarse, length, "size Coarse of a crusher")
	if err != nil {
		return n, err
	}
	if coarse <= fine {
		return n, fmt.Errorf("comminution: Coarse, %v, is above Fine, %v", m.Coarse, m.Fine)
	}
	k, err := positive(or(m.Shape, quantity.Number(2.3)), "1", "shape of a crusher")
	if err != nil {
		return n, err
	}
	if n.t10, err = share(m.T10, "t10 of a crusher"); err != nil || n.t10 == 0 || n.t10 == 1 {
		return n, fmt.Errorf("comminution: the t10 of a crusher lies between 0 and 100 %%, and %v does not", m.T10)
	}
	f, err := m.Family.certain()
	if err != nil {
		return n, err
	}
	n.uppers = uppersOf(c)
	for i := range n.uppers {
		n.breaks = append(n.breaks, chance(n.uppers, i, fine, coarse, k))
		n.columns = append(n.columns, fragments(n.uppers, i, middle(n.uppers, i), f, n.t10))
	}
	last := len(n.uppers) - 1
	if n.breaks[last] > 0 {
		return n, fmt.Errorf("comminution: the crusher breaks what is coarser than %v, and the finest class begins with %.4g mm; add finer openings", m.Fine, 1e3*n.uppers[last])
	}
	return n, nil
}

// chance is C averaged over a class by the logarithm of size.
func chance(uppers []float64, i int, fine, coarse, k float64) float64 {
	low := uppers[i] / 2
	if i+1 < len(uppers) {
		low = uppers[i+1]
	}
	if uppers[i] <= fine {
		return 0
	}
	const parts = 32
	total := 0.0
	for p := range parts {
		x := low * math.Pow(uppers[i]/low, (float64(p)+0.5)/parts)
		switch {
		case x >= coarse:
			total++
		case x > fine:
			total += 1 - math.Pow((coarse-x)/(coarse-fine), k)
		}
	}
	return total / parts
}

// crush is the product of flows by size, and what passed the nip in each class.
func (n crusher) crush(flows []float64) (product, nipped []float64) {
	inside := append([]float64(nil), flows...)
	product, nipped = make([]float64, len(flows)), make([]float64, len(flows))
	for i := range inside {
		inside[i] /= 1 - n.columns[i][i]*n.breaks[i]
		nipped[i] = inside[i] * n.breaks[i]
		product[i] = inside[i] - nipped[i]
		for k := i + 1; k < len(inside); k++ {
			inside[k] += nipped[i] * n.columns[i][k]
		}
	}
	return product, nipped
}

// Apply is the product of a feed; all classes of particles are crushed alike, and water
// stays with the solids.
//
// Units: as the feed.
//
// Range: a crusher that is fed less than its capacity (Jaw.Volume,
// RollPair.Throughput). Classes must reach below Fine.
//
// Errors: fields of another kind or outside their range; an empty family; classes that
// do not reach below Fine.
//
// Source: W.J. Whiten, J. S. Afr. Inst. Min. Metall. 72 (1972) 257; k = 2.3 and Fine and
// Coarse as first estimates from the settings, J.G. Donovan, PhD thesis, Virginia
// Polytechnic Institute (2003).
func (m Crusher) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c := feed.Classes()
	if c == nil {
		return nil, errors.New("comminution: crusher: the feed is an empty stream")
	}
	n, err := m.numbers(c)
	if err != nil {
		return nil, err
	}
	product, err := feed.Transform("crushed", func(flows [][]float64) ([][]float64, error) {
		column := make([]float64, len(flows))
		for j := range c.Particles() {
			for i := range flows {
				column[i] = flows[i][j]
			}
			crushed, _ := n.crush(column)
			for i, x := range crushed {
				flows[i][j] = x
			}
		}
		return flows, nil
	})
	if err != nil {
		return nil, fmt.Errorf("comminution: crusher: %w", err)
	}
	return []stream.Stream{product}, nil
}

// Power is the power drawn with a feed: that which drop weights would need to give
// T10 to all that passes the nip, times Excess, and Idle,
//
//	P = P0 + a·Σ n_i·E(x_i)
//
// Units: in kW.
//
// Range: as Apply.
//
// Errors: as Apply; an Impact that is missing, or whose A is not above T10; a power or
// Excess below 0.
//
// Source: J.S. Andersen, T.J. Napier-Munn, 3rd Mill Operators' Conference (AusIMM,
// 1988), with a near 1.3 (from memory).
func (m Crusher) Power(feed stream.Stream) (quantity.Quantity, error) {
	c := feed.Classes()
	if c == nil {
		return quantity.Quantity{}, errors.New("comminution: crusher: the feed is an empty stream")
	}
	n, err := m.numbers(c)
	if err != nil {
		return quantity.Quantity{}, err
	}
	law, err := numbersOf(m.Impact.inputs())
	if err != nil {
		return quantity.Quantity{}, err
	}
	if law.most <= n.t10 {
		return quantity.Quantity{}, fmt.Errorf("comminution: crusher: no impact on this material gives a t10 of %v; its A is %v", m.T10, m.Impact.Most)
	}
	excess, err := notNegative(or(m.Excess, quantity.Number(1.3)), "1", "Excess of a crusher")
	if err != nil {
		return quantity.Quantity{}, err
	}
	work, bySize := 0.0, make([]float64, c.Sizes())
	for i := range bySize {
		for j := range c.Particles() {
			bySize[i] += feed.Flow(i, j)
		}
	}
	_, nipped := n.crush(bySize)
	for i, flow := range nipped {
		work += flow * law.energyFor(c.Metres(i), n.t10)
	}
	return drawn(m.Idle, quantity.Quantity{}, excess*work)
}
