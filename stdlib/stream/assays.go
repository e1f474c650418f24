package stream

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// FeedByAssays is the stream of a rate of dry solids that was sieved and assayed by
// size: the shares x of the particle classes in each size are those for which
//
//	Σ (a − Σ w·x)² → least,  Σ x = 1,  x ≥ 0
//
// with a the assays and w what the particle classes hold of each component. Each
// component counts beside the richest particles in it, so that traces count too.
//
// Units: rate is a mass flow of dry solids; sizes is a distribution with assays
// whose names are minerals, elements or oxides; tolerance is a share of mass; water
// as in New.
//
// Range: assays that tell the particle classes apart: one fewer than the classes
// at least. Sizes are read between sieves as size.Distribution.Resample does, from
// the finest to the coarsest sieve. Uncertain figures are taken at their means.
//
// Errors: no assay; a name that is no component; a size whose assays no mixture of
// the particles meets within the tolerance, with the nearest; assays that leave the
// classes open; what Feed and Resample refuse.
//
// Source: bounded least squares, C.L. Lawson, R.J. Hanson, Solving Least Squares
// Problems (1974).
func FeedByAssays(name string, c *Classes, rate quantity.Quantity, sizes size.Distribution, tolerance, water quantity.Quantity) (Stream, error) {
	if c == nil {
		return Stream{}, fmt.Errorf("stream: %s: a stream needs classes; NewClasses makes them", name)
	}
	allowed, err := tolerance.Value("wt%")
	if err != nil || !(allowed >= 0) {
		return Stream{}, fmt.Errorf("stream: %s: the tolerance of assays is a share of mass, as in 0.5 %%, and %v is not", name, tolerance)
	}
	told, err := c.retold(name, sizes)
	if err != nil {
		return Stream{}, err
	}
	mix, err := newMixture(name, c, told, allowed/100)
	if err != nil {
		return Stream{}, err
	}
	shares := make([][]float64, c.Sizes())
	for i, mass := range told.Masses()[1:] {
		shares[i] = make([]float64, c.Particles())
		if mass.Certain().SI() > 0 {
			if shares[i], err = mix.shares(i); err != nil {
				return Stream{}, err
			}
		}
	}
	return c.feed(name, rate, told, shares, water)
}

// retold is a distribution on the openings of the classes.
func (c *Classes) retold(name string, sizes size.Distribution) (size.Distribution, error) {
	if err := byMass(name, sizes); err != nil {
		return size.Distribution{}, err
	}
	if len(sizes.Assays()) == 0 {
		return size.Distribution{}, fmt.Errorf("stream: %s: the distribution has no assays; add them with WithAssay, or use Feed", name)
	}
	told, err := sizes.Resample(c.openings)
	if err != nil {
		return size.Distribution{}, fmt.Errorf("stream: %s: %w", name, err)
	}
	return told, nil
}

// byMass refuses distributions whose classes are volumes, for where particles
// differ in density from size to size these are no shares of mass.
func byMass(name string, sizes size.Distribution) error {
	masses := sizes.Masses()
	if len(masses) == 0 {
		return fmt.Errorf("stream: %s: the size distribution is empty; make it with size.New", name)
	}
	if masses[0].Unit().String() == "vol%" {
		return fmt.Errorf("stream: %s: the sizes are told by volume, and particles that differ from size to size need them by mass", name)
	}
	return nil
}

// mixture looks for the shares of particles that meet assays.
type mixture struct {
	name       string
	classes    *Classes
	components []string
	content    [][]float64 // component × particle
	assays     [][]float64 // component × size, the empty class above the top left out
	allowed    float64
}

func newMixture(name string, c *Classes, told size.Distribution, allowed float64) (mixture, error) {
	m := mixture{name: name, classes: c, components: told.Assays(), allowed: allowed}
	for _, what := range m.components {
		content, err := c.contentOf(what)
		if err != nil {
			return m, fmt.Errorf("stream: %s: assay %s: %w", name, what, err)
		}
		grades, err := told.Grades(what)
		if err != nil {
			return m, fmt.Errorf("stream: %s: %w", name, err)
		}
		assays := make([]float64, c.Sizes())
		for i, grade := range grades[1:] {
			assays[i] = grade.Certain().SI()
		}
		m.content, m.assays = append(m.content, content), append(m.assays, assays)
	}
	return m, nil
}

func (m mixture) shares(i int) ([]float64, error) {
	n := m.classes.Particles()
	var rows [][]float64
	var right []float64
	for k, content := range m.content {
		richest := 0.0
		for _, w := range content {
			richest = math.Max(richest, w)
		}
		if richest == 0 {
			richest = 1
		}
		row := make([]float64, n)
		for j, w := range content {
			row[j] = w / richest
		}
		rows, right = append(rows, row), append(right, m.assays[k][i]/richest)
	}
	high := make([]float64, n)
	for j := range high {
		high[j] = 1
	}
	found := numeric.BoundedLeastSquares(rows, right, make([]float64, n), high, 1)
	where := fmt.Sprintf("stream: %s, size %s", m.name, m.classes.Size(i))
	if !found.Settled || !found.Unique {
		return nil, fmt.Errorf("%s: the assays %s leave the shares of %s open; assay more, or state shares with FeedBySize", where, quoted(m.components), quoted(m.classes.ParticleNames()))
	}
	for k, what := range m.components {
		var mixed float64
		for j, w := range m.content[k] {
			mixed += w * found.X[j]
		}
		if math.Abs(mixed-m.assays[k][i]) > m.allowed+1e-9 {
			return nil, fmt.Errorf("%s: %.4g %% %s was assayed, and no mixture of %s comes nearer than %.4g %%; look at the assay, at the minerals, or at the tolerance",
				where, 100*m.assays[k][i], what, quoted(m.classes.ParticleNames()), 100*mixed)
		}
	}
	return found.X, nil
}
