package partition

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// Products are the two products that a model predicts of a feed.
type Products struct {
	Coarse, Fine size.Distribution
	Yield        quantity.Quantity // share of the feed that becomes the coarse product, in %
}

// Split is what the model makes of a feed: each class is shared out by the
// model at its geometric mean size, its assays unchanged.
//
// The two open classes have no mean size. The one above the coarsest sieve is
// taken at ⁴√2 times its opening, as if the next sieve of a √2 series bounded
// it, the pan at half its opening.
//
// Units: the feed's masses; the yield in %. An uncertain model counts with its
// means.
//
// Range: a model over sizes. Where much of the feed lies in an open class the
// result depends on the size taken for it: sieve on more sieves.
//
// Errors: a model over densities; a product without any mass.
//
// Source: mass balance of each class; the sizes of open classes are common
// practice.
func (m Model) Split(feed size.Distribution) (Products, error) {
	if _, err := m.cut.Value("m"); err != nil {
		return Products{}, fmt.Errorf("partition: the model cuts by density, at %v; a size distribution is split by size", m.cut)
	}
	masses := feed.Masses()
	coarse, fine := make([]quantity.Quantity, len(masses)), make([]quantity.Quantity, len(masses))
	b, s := fraction(m.coarseBypass), fraction(m.fineBypass)
	for i, at := range representative(feed) {
		share := m.total(at, m.cut.SI(), m.spreadSI(), b, s)
		unit := masses[i].Unit()
		up := share * masses[i].Shown()
		coarse[i], fine[i] = unit.Quantity(up), unit.Quantity(masses[i].Shown()-up)
	}
	var p Products
	var err error
	if p.Coarse, err = product(feed, coarse); err != nil {
		return Products{}, fmt.Errorf("partition: the coarse product: %w", err)
	}
	if p.Fine, err = product(feed, fine); err != nil {
		return Products{}, fmt.Errorf("partition: the fine product: %w", err)
	}
	p.Yield = percent(fraction(p.Coarse.Mass().Div(feed.Mass())))
	return p, nil
}

func (m Model) spreadSI() float64 { return m.spread.SI() }

// representative are the sizes of the classes in m.
func representative(feed size.Distribution) []float64 {
	openings := feed.Openings()
	sizes := make([]float64, 0, len(openings)+1)
	for i, mean := range feed.MeanSizes() {
		switch i {
		case 0:
			sizes = append(sizes, openings[0].SI()*math.Sqrt(math.Sqrt2))
		case len(openings):
			sizes = append(sizes, openings[i-1].SI()/2)
		default:
			sizes = append(sizes, mean.SI())
		}
	}
	return sizes
}

func product(feed size.Distribution, masses []quantity.Quantity) (size.Distribution, error) {
	d, err := size.New(feed.Openings(), masses)
	if err != nil {
		return size.Distribution{}, err
	}
	for _, name := range feed.Assays() {
		grades, err := feed.Grades(name)
		if err != nil {
			return size.Distribution{}, err
		}
		if d, err = d.WithAssay(name, grades); err != nil {
			return size.Distribution{}, err
		}
	}
	return d.By(feed.Interpolation()), nil
}
