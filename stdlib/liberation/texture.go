package liberation

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Model is a picture of how grains lie in a rock.
type Model int

// The models. In both, grains are cubes of one size, and so are particles, whose sides
// lie along those of the grains.
const (
	// Isolated is Gaudin's: each grain lies alone in the matrix, and no particle meets
	// two. It suits rocks with little of the mineral.
	Isolated Model = iota
	// Random is Wiegel and Li's: the rock is a lattice of cubes, each of which is the
	// mineral with a chance equal to its share by volume, so that grains also join.
	Random
)

// String is the name of the model.
func (m Model) String() string {
	switch m {
	case Isolated:
		return "isolated grains (Gaudin)"
	case Random:
		return "random grains (Wiegel and Li)"
	}
	return fmt.Sprintf("model %d", int(m))
}

// Texture is grains of a mineral in a matrix. Its quantities may be uncertain.
type Texture struct {
	Grain quantity.Quantity // size of the grains, the edge of the cubes
	Share quantity.Quantity // of the mineral by volume, as in vol% or a plain number
	Model Model
}

// Grades is how particles of one size are composed, all by volume.
type Grades struct {
	Barren          quantity.Quantity // share of the particles without the mineral
	Free            quantity.Quantity // share of the particles that are all mineral
	Locked          quantity.Quantity // share of the others
	LockedMean      quantity.Quantity // share of the mineral in locked particles
	LockedDeviation quantity.Quantity // its standard deviation from particle to particle
}

// grades are Grades in numbers.
type grades struct{ barren, free, mean, variance float64 }

func (g grades) locked() float64 { return max(1-g.barren-g.free, 0) }

// texture is a Texture with numbers.
type texture struct {
	grain, share float64
	model        Model
}

func volumeShare(q quantity.Quantity, what string) (float64, error) {
	x, err := q.Float()
	if err != nil {
		if x, err = q.Value("vol%"); err == nil {
			x /= 100
		}
	}
	if err != nil || !(x >= 0 && x <= 1) {
		return 0, fmt.Errorf("liberation: the %s is a share by volume from 0 to 100 %%, and %v is not", what, q)
	}
	return x, nil
}

func positive(q quantity.Quantity, what string) (float64, error) {
	x, err := q.Value("m")
	if err != nil || !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("liberation: the %s is a length above 0, and %v is not", what, q)
	}
	return x, nil
}

func (t Texture) numbers(grain, share quantity.Quantity) (n texture, err error) {
	if t.Model != Isolated && t.Model != Random {
		return n, fmt.Errorf("liberation: there is no %v", t.Model)
	}
	n.model = t.Model
	if n.grain, err = positive(grain, "size of the grains"); err != nil {
		return n, err
	}
	if n.share, err = volumeShare(share, "share of the mineral"); err != nil {
		return n, err
	}
	if n.share == 0 || n.share == 1 {
		return n, fmt.Errorf("liberation: with %v of the mineral there is nothing to liberate", share)
	}
	if n.model == Isolated && n.share > 0.125 {
		return n, fmt.Errorf("liberation: isolated grains are for rocks of up to 12.5 %% by volume, beyond which grains of particles as large as they meet; here %v: use the model Random", share)
	}
	return n, nil
}

// at is the grades of particles of a size.
func (t texture) at(size float64) (grades, error) {
	r := size / t.grain
	line := side(r)
	if t.model == Isolated {
		g := grades{mean: t.share, barren: 1 - t.share*math.Pow(1+r, 3)}
		if g.barren < 0 {
			return g, fmt.Errorf("liberation: particles of %.4g mm would meet several grains of %.4g mm; isolated grains hold up to a size of %.4g mm here: use the model Random",
				1e3*size, 1e3*t.grain, 1e3*t.grain*(math.Pow(t.share, -1.0/3)-1))
		}
		if r < 1 {
			g.free = t.share * math.Pow(1-r, 3)
		}
		g.variance = t.share*line*line*line - t.share*t.share
		return g, nil
	}
	g := grades{mean: t.share, variance: t.share * (1 - t.share) * line * line * line}
	g.free, g.barren = uniform(r, t.share), uniform(r, 1-t.share)
	return g, nil
}

// side is, for a line of length r laid at random on cells of length 1, the mean sum of
// the squares of the parts of it in each cell.
func side(r float64) float64 {
	if r <= 1 {
		return 1 - r/3
	}
	return (1 - 1/(3*r)) / r
}

// uniform is the chance that all cells that a cube of side r meets are of a kind, each of
// which is so with the chance p. Along each side it meets ⌊r⌋+1 cells, or one more
// with the chance of the fraction of r.
func uniform(r, p float64) float64 {
	whole, part := math.Modf(r)
	total := 0.0
	for k := range 8 {
		cells, chance := 1.0, 1.0
		for axis := range 3 {
			if k>>axis&1 == 0 {
				cells, chance = cells*(whole+1), chance*(1-part)
			} else {
				cells, chance = cells*(whole+2), chance*part
			}
		}
		if chance > 0 {
			total += chance * math.Pow(p, cells)
		}
	}
	if total < 1e-15 { // nothing, which tables need not show with its digits
		return 0
	}
	return total
}

func (t Texture) by(size quantity.Quantity, of func(t texture, g grades) float64) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := t.numbers(v[0], v[1])
		if err != nil {
			return quantity.Quantity{}, err
		}
		x, err := positive(v[2], "size of the particles")
		if err != nil {
			return quantity.Quantity{}, err
		}
		g, err := n.at(x)
		return quantity.Of(100*of(n, g), "%"), err
	}, t.Grain, t.Share, size)
}

// FreeMineral is the share of the mineral that is in free particles of a size. With
// K = grain/particle it is
//
//	(1 − 1/K)³  (Isolated)
//	((K−1)³ + 3(K−1)²·V + 3(K−1)·V³ + V⁷)/K³  (Random, K of 1 or more)
//
// Units: size is a length; in %.
//
// Range: any size for Random; particles finer than the grains for Isolated, whose
// coarser ones free nothing.
//
// Errors: a size or grain not above 0, a share of 0 or 100 %; for Isolated a share above
// 12.5 % or particles so coarse that they meet several grains.
//
// Source: A.M. Gaudin, Principles of Mineral Dressing (1939), ch. 4; R.L. Wiegel, K. Li,
// Trans. SME-AIME 238 (1967) 179 (form from memory; here counted from the cells that a
// particle meets, which also serves for particles coarser than grains).
func (t Texture) FreeMineral(size quantity.Quantity) (quantity.Quantity, error) {
	return t.by(size, func(t texture, g grades) float64 { return g.free / t.share })
}

// FreeMatrix is the share of the matrix that is in particles without any mineral,
//
//	(1 − V·(1 + 1/K)³)/(1 − V)  (Isolated)
//
// and for Random as FreeMineral with 1 − V in place of V.
//
// Units: as FreeMineral.
//
// Range: as FreeMineral.
//
// Errors: as FreeMineral.
//
// Source: as FreeMineral.
func (t Texture) FreeMatrix(size quantity.Quantity) (quantity.Quantity, error) {
	return t.by(size, func(t texture, g grades) float64 { return g.barren / (1 - t.share) })
}

// Grades is how particles of a size are composed. The spread over locked particles
// follows from that of all, whose variance is
//
//	σ² = V·(1 − V)·s³ (Random),  V·s³ − V² (Isolated)
//
// with s = 1 − r/3 for r = particle/grain up to 1, else (1 − 1/(3r))/r.
//
// Units: size is a length; shares in % by volume.
//
// Range: as FreeMineral.
//
// Errors: as FreeMineral.
//
// Source: as FreeMineral; the variance by integration over the place of the particle.
func (t Texture) Grades(size quantity.Quantity) (Grades, error) {
	var out Grades
	for i, into := range []*quantity.Quantity{&out.Barren, &out.Free, &out.Locked, &out.LockedMean, &out.LockedDeviation} {
		q, err := t.by(size, func(_ texture, g grades) float64 {
			mean, variance := g.ofLocked()
			return [...]float64{g.barren, g.free, g.locked(), mean, math.Sqrt(variance)}[i]
		})
		if err != nil {
			return Grades{}, err
		}
		*into = q
	}
	return out, nil
}

// ofLocked is mean and variance of the grade of locked particles.
func (g grades) ofLocked() (mean, variance float64) {
	locked := g.locked()
	if locked == 0 {
		return 0, 0
	}
	mean = (g.mean - g.free) / locked
	second := (g.variance + g.mean*g.mean - g.free) / locked
	return mean, max(second-mean*mean, 0)
}

// SizeFor is the size at which a share of the mineral is in free particles: the inverse of
// FreeMineral.
//
// Units: free is a share; in the unit of the grain.
//
// Range: above 0 and below 100 %.
//
// Errors: a share outside the range, or as FreeMineral.
//
// Source: as FreeMineral; solved by halving.
func (t Texture) SizeFor(free quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := t.numbers(v[0], v[1])
		if err != nil {
			return quantity.Quantity{}, err
		}
		wanted, err := volumeShare(v[2], "free share")
		if err != nil || wanted == 0 || wanted == 1 {
			return quantity.Quantity{}, fmt.Errorf("liberation: a free share to reach lies above 0 and below 100 %%, and %v does not", v[2])
		}
		low, high := 0.0, 1.0
		for n.model == Random && high < 1e3 && uniform(high, n.share)/n.share > wanted {
			high *= 2
		}
		for range 60 {
			r := (low + high) / 2
			free := math.Pow(1-min(r, 1), 3)
			if n.model == Random {
				free = uniform(r, n.share) / n.share
			}
			if free > wanted {
				low = r
			} else {
				high = r
			}
		}
		q, err := quantity.Of((low+high)/2*n.grain, "m").InUnit(v[0].Unit())
		return q, err
	}, t.Grain, t.Share, free)
}

// Curve is a table of what is free over sizes of particles.
//
// Units: sizes are lengths; in %.
//
// Range: as FreeMineral.
//
// Errors: as FreeMineral, for any of the sizes; no size.
//
// Source: as FreeMineral.
func (t Texture) Curve(sizes []quantity.Quantity) (table.Table, error) {
	if len(sizes) == 0 {
		return table.Table{}, fmt.Errorf("liberation: a curve needs a size or more")
	}
	var mineral, matrix, locked []quantity.Quantity
	for _, size := range sizes {
		a, err := t.FreeMineral(size)
		if err != nil {
			return table.Table{}, err
		}
		b, err := t.FreeMatrix(size)
		if err != nil {
			return table.Table{}, err
		}
		g, err := t.Grades(size)
		if err != nil {
			return table.Table{}, err
		}
		mineral, matrix, locked = append(mineral, a), append(matrix, b), append(locked, g.LockedMean)
	}
	made, err := table.New(table.Quantities("particle size", sizes), table.Quantities("mineral that is free", mineral),
		table.Quantities("matrix that is free", matrix), table.Quantities("mineral in locked particles, by volume", locked))
	if err != nil {
		return table.Table{}, err
	}
	return made.Caption("Liberation, " + t.Model.String()), nil
}
