package liberation

import (
	"errors"
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Liberator gives the particles of a broken stream the compositions that belong to
// their sizes, a unit operation of one product that follows a crusher or mill. In each
// size class the particles of one ore, in classes of composition from barren over locked
// to free, are dealt out anew by the Texture; what is freer already stays. It works with
// the means of its fields.
type Liberator struct {
	Mineral string            // the mineral that the grains are of
	Classes []string          // classes of particles of the ore, from barren to free, of rising content
	Grain   quantity.Quantity // size of the grains
	Model   Model
}

// Products is the name of the one product.
func (l Liberator) Products() []string { return []string{"liberated"} }

// Apply is the stream with its particles dealt out anew. The share by volume that the
// texture needs is that of the ore in each size class. Mass of the mineral and of the rest
// stay in their size class. Particles between two classes of composition count in parts to
// both, so that few classes make locked particles look freer than they are.
//
// Units: as the feed.
//
// Range: as Texture.Grades. The first class has none of the mineral, the last nothing
// else, and all that is in them comes from this ore: free grains mixed in from elsewhere
// would count as its own.
//
// Errors: names that are no classes; classes that do not rise from 0 to 100 %; particles
// without a density; a grain that is none; textures outside the range of the model.
//
// Source: as Texture; that breakage does not know the history of a particle is the
// assumption of random fracture (R.P. King, Powder Technol. 81 (1994) 217).
func (l Liberator) Apply(feed stream.Stream) ([]stream.Stream, error) {
	o, err := l.ore(feed.Classes())
	if err != nil {
		return nil, err
	}
	out, err := feed.Transform("liberated", func(flows [][]float64) ([][]float64, error) {
		for i := range flows {
			if err := o.deal(flows[i], feed.Classes().Metres(i)); err != nil {
				return nil, fmt.Errorf("size class %s: %w", feed.Classes().Size(i), err)
			}
		}
		return flows, nil
	})
	if err != nil {
		return nil, fmt.Errorf("liberation: %w", err)
	}
	return []stream.Stream{out}, nil
}

// ore is the classes of composition of a Liberator on those of a stream.
type ore struct {
	particles []int
	content   []float64 // of the mineral by volume, from 0 to 1
	density   []float64 // kg/m³
	grain     float64
	model     Model
}

func (l Liberator) ore(c *stream.Classes) (o ore, err error) {
	if c == nil {
		return o, errors.New("liberation: the feed is an empty stream")
	}
	if o.grain, err = positive(l.Grain, "size of the grains"); err != nil {
		return o, err
	}
	if len(l.Classes) < 3 {
		return o, fmt.Errorf("liberation: an ore has three classes of composition or more, barren, locked and free; here are %d", len(l.Classes))
	}
	if l.Model != Isolated && l.Model != Random {
		return o, fmt.Errorf("liberation: there is no %v", l.Model)
	}
	o.model = l.Model
	for k, name := range l.Classes {
		j, err := c.FindParticle(name)
		if err != nil {
			return o, fmt.Errorf("liberation: %w", err)
		}
		p := c.Particle(j)
		v, err := p.VolumeShare(l.Mineral)
		if err != nil {
			return o, fmt.Errorf("liberation: %w", err)
		}
		density, err := p.Density()
		if err != nil {
			return o, fmt.Errorf("liberation: %w", err)
		}
		if k > 0 && v <= o.content[k-1] {
			return o, fmt.Errorf("liberation: classes stand in the order of their %s, and %s does not hold more than %s", l.Mineral, name, l.Classes[k-1])
		}
		o.particles, o.content, o.density = append(o.particles, j), append(o.content, v), append(o.density, density.SI())
	}
	last := len(o.content) - 1
	if o.content[0] > 1e-9 || o.content[last] < 1-1e-9 {
		return o, fmt.Errorf("liberation: the first class, %s, has none of the %s and the last, %s, nothing else; they hold %.4g and %.4g %% by volume",
			l.Classes[0], l.Mineral, l.Classes[last], 100*o.content[0], 100*o.content[last])
	}
	o.content[0], o.content[last] = 0, 1
	return o, nil
}

// deal changes the flows of one size class.
func (o ore) deal(flows []float64, size float64) error {
	volume, mineral, square := 0.0, 0.0, 0.0
	for k, j := range o.particles {
		v := flows[j] / o.density[k]
		volume, mineral, square = volume+v, mineral+v*o.content[k], square+v*o.content[k]*o.content[k]
	}
	if volume == 0 {
		return nil
	}
	share := mineral / volume
	if share < 1e-12 || share > 1-1e-12 {
		return nil
	}
	var t Texture
	t.Model = o.model
	n, err := t.numbers(quantity.Of(o.grain, "m"), quantity.Number(share))
	if err != nil {
		return err
	}
	g, err := n.at(size)
	if err != nil {
		return err
	}
	dealt, spread := g.spread(o.content), 0.0
	for k, x := range dealt {
		spread += x * o.content[k] * o.content[k]
	}
	if spread <= square/volume { // as free already
		return nil
	}
	for k, j := range o.particles {
		flows[j] = volume * dealt[k] * o.density[k]
	}
	return nil
}

// FreeShare is the share of a mineral in a stream that is in particles which hold at
// least so much of it by mass.
//
// Units: least is a share of mass; in %.
//
// Range: least above 0; 95 % is a usual limit of "free".
//
// Errors: a stream without the mineral; a limit outside 0 to 100 %.
//
// Source: the definition of the degree of liberation, A.M. Gaudin (1939); the limit common
// practice.
func FreeShare(s stream.Stream, mineral string, least quantity.Quantity) (quantity.Quantity, error) {
	limit, err := least.Float()
	if err != nil || !(limit > 0 && limit <= 1) {
		return quantity.Quantity{}, fmt.Errorf("liberation: the content from which a particle counts as free lies above 0 up to 100 %%, and %v does not", least)
	}
	c := s.Classes()
	if c == nil {
		return quantity.Quantity{}, errors.New("liberation: the stream is empty")
	}
	all, free := 0.0, 0.0
	for j := range c.Particles() {
		content := c.Particle(j).Share(mineral)
		for i := range c.Sizes() {
			all += s.Flow(i, j) * content
			if content >= limit*(1-1e-9) {
				free += s.Flow(i, j) * content
			}
		}
	}
	if all == 0 {
		return quantity.Quantity{}, fmt.Errorf("liberation: %s holds no %s", s.Name(), mineral)
	}
	return quantity.Of(100*free/all, "%"), nil
}
