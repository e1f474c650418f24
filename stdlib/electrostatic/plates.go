package electrostatic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Plates is a free-fall separator: charged grains fall between two upright plates
// that draw them aside, and two splitters below part them by where they land.
type Plates struct {
	Height     quantity.Quantity // of the plates
	Gap        quantity.Quantity // between the plates
	Voltage    quantity.Quantity // between the plates
	Drift      quantity.Quantity // of fall between the plates' lower edge and the splitters; nothing for 0
	Speed      quantity.Quantity // downward, with which grains enter; nothing for 0
	Entry      quantity.Quantity // width of the curtain of grains in the middle; nothing for 0
	Negative   quantity.Quantity // from the middle to the splitter on the negative plate's side
	Positive   quantity.Quantity // from the middle to the splitter on the positive plate's side
	Gravity    quantity.Quantity // nothing for the Earth's
	Atmosphere Atmosphere

	Charges []Charge
	Idle    quantity.Quantity // power drawn without feed; nothing for 0
}

func (p *Plates) fields() []*quantity.Quantity {
	return append([]*quantity.Quantity{&p.Height, &p.Gap, &p.Voltage, &p.Drift, &p.Speed, &p.Entry, &p.Negative, &p.Positive, &p.Gravity, &p.Idle},
		p.Atmosphere.fields()...)
}

// shaft is a plate separator in numbers.
type shaft struct {
	height, gap, field, drift, speed, entry, negative, positive, gravity float64
	around                                                               surroundings
	limit                                                                float64 // of charge per surface, C/m²
}

func (p Plates) shaft() (shaft, error) {
	around, err := p.Atmosphere.read("plates")
	if err != nil {
		return shaft{}, err
	}
	r := fields.Of("electrostatic: plates")
	s := shaft{around: around,
		height: r.Positive("Height", p.Height, "m"), gap: r.Positive("Gap", p.Gap, "m"),
		drift: r.AtLeast("Drift", p.Drift, "m", 0), speed: r.AtLeast("Speed", p.Speed, "m/s", 0),
		gravity: r.AtLeast("Gravity", p.Gravity, "m/s2", standardGravity)}
	s.field = r.Positive("Voltage", p.Voltage, "V") / s.gap
	if s.gravity == 0 && s.speed == 0 {
		r.Fail("without gravity grains need a Speed")
	}
	if s.gravity == 0 && !around.vacuum {
		r.Fail("without gravity grains come to rest in a gas; set Atmosphere.Vacuum")
	}
	if r.Err != nil {
		return s, r.Err
	}
	bears, err := around.bears(s.gap)
	if err != nil {
		return s, err
	}
	if s.field > bears {
		r.Fail("%v over %v would break down; the gap bears %s", p.Voltage, p.Gap, inVolts(bears*s.gap))
	}
	if s.limit, err = around.charge(s.gap); err != nil {
		return s, err
	}
	return s, r.Err
}

// aim also reads what only a separation needs.
func (p Plates) aim() (shaft, error) {
	s, err := p.shaft()
	if err != nil {
		return s, err
	}
	r := fields.Of("electrostatic: plates")
	half := s.gap / 2
	s.entry = r.Within("Entry", p.Entry, "m", 0, s.gap, 0)
	s.negative = r.Within("Negative", p.Negative, "m", 0, half, math.NaN())
	s.positive = r.Within("Positive", p.Positive, "m", 0, half, math.NaN())
	if math.IsNaN(s.negative) || math.IsNaN(s.positive) {
		r.Fail("Negative and Positive say how far from the middle the splitters stand, and one is missing")
	}
	return s, r.Err
}

// deflection is how far aside a sphere has gone at the splitters' level with an
// acceleration aside.
func (s shaft) deflection(aside, size, density float64) (float64, error) {
	if s.around.vacuum {
		first, down := s.time(s.speed, s.height)
		second, _ := s.time(down, s.drift)
		return aside*first*first/2 + aside*first*second, nil
	}
	const pieces = 64
	piece := (s.height + s.drift) / pieces
	var x, y, vx, vy float64 = 0, 0, 0, s.speed
	for step := 0; y < s.height+s.drift; step++ {
		if step > 50*pieces {
			return 0, fmt.Errorf("electrostatic: plates: grains of %s hardly fall in this gas", quantity.Of(size, "m").To("µm"))
		}
		if y >= s.height {
			aside = 0
		}
		k := s.around.drag(size, density, math.Hypot(vx, vy))
		// A piece of way at the speed, or from rest; as far as drag lets it.
		time := piece / (vy + math.Sqrt(piece*s.gravity/2))
		dx, nextX := glide(vx, aside, k, time)
		dy, nextY := glide(vy, s.gravity, k, time)
		if left := s.height + s.drift - y; dy > left {
			return x + dx*left/dy, nil
		}
		x, y, vx, vy = x+dx, y+dy, nextX, nextY
	}
	return x, nil
}

// time is that of a fall in a vacuum and the speed at its end.
func (s shaft) time(speed, height float64) (time, end float64) {
	end = math.Sqrt(speed*speed + 2*s.gravity*height)
	return 2 * height / (speed + end), end
}

// glide is the way in a time and the velocity after it with a drag per velocity
// that stays.
func glide(v, acceleration, k, time float64) (way, end float64) {
	if k*time < 1e-8 {
		return v*time + acceleration*time*time/2, v + acceleration*time
	}
	decay, final := -math.Expm1(-k*time), acceleration/k
	return final*time + (v-final)*decay/k, v + (final-v)*decay
}

// Deflection is how far aside a grain of a charge per mass has been drawn when it
// comes to the splitters. In a vacuum, with time t₁ between the plates and t₂ below,
//
//	x = q/m·V/b·(t₁²/2 + t₁·t₂)
//
// and with drag less.
//
// Units: charge as in µC/kg, size a length, density; a length, above 0 towards the
// negative plate for a positive charge. It may exceed half the gap; such grains
// strike the plate.
//
// Range: spheres that do not meet, in a gas at rest or a vacuum, and the even field
// between the plates; lifting at their edges is not in it.
//
// Errors: plates that lack a field or have one out of range; a voltage that the gas
// does not bear; a charge beyond what the gas bears; a size or density not above 0.
//
// Source: E = V/b and Newton's law; M. Khalifa, High-Voltage Engineering, ch. 19;
// drag: L. Schiller, A. Naumann, Z. VDI 77 (1933) 318 (from memory).
func (p Plates) Deflection(chargePerMass, size, density quantity.Quantity) (quantity.Quantity, error) {
	return fields.Through(p.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := p
		put(one.fields())
		s, err := one.shaft()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("electrostatic: plates")
		q, d, rho := r.Number("the charge", v[0], "C/kg"), r.Positive("the size", v[1], "m"), r.Positive("the density", v[2], "kg/m3")
		if sigma := math.Abs(q) * rho * d / 6; sigma > s.limit {
			r.Fail("%v on grains of %v is %s, and the gas bears %s", v[0], v[1], quantity.Of(sigma, "C/m2").To("µC/m2"), quantity.Of(s.limit, "C/m2").To("µC/m2"))
		}
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		x, err := s.deflection(q*s.field, d, rho)
		return quantity.Of(x, "m"), err
	}, chargePerMass, size, density)
}

// threshold is the charge per surface that brings a sphere to a place aside.
func (s shaft) threshold(place, size, density float64) (float64, error) {
	first, down := s.time(s.speed, s.height)
	second, _ := s.time(down, s.drift)
	aside := place / (first*first/2 + first*second)
	for range 8 {
		x, err := s.deflection(aside, size, density)
		if err != nil {
			return 0, err
		}
		aside *= place / x
		if math.Abs(x-place) < 1e-3*math.Abs(place) { // the next step is a thousand times nearer
			break
		}
	}
	return aside * density * size / (6 * s.field), nil
}

// entries are at how many places of the curtain grains come in.
const entries = 8

// shares are those of a class that go to the negative plate's side and to the
// middle. The charge that brings a grain aside is in proportion to how far, but for
// drag, which is taken at the farther splitter, or at a tenth of the gap.
func (s shaft) shares(c charged, size float64) (negative, middle float64, err error) {
	place := max(s.negative, s.positive, s.gap/10)
	sigma, err := s.threshold(place, size, c.density)
	if err != nil {
		return 0, 0, err
	}
	n := entries
	if s.entry == 0 {
		n = 1
	}
	for k := range n {
		x := s.entry * ((float64(k)+0.5)/float64(n) - 0.5)
		right := c.above(sigma*(s.negative-x)/place, s.limit)
		left := c.above(sigma*(-s.positive-x)/place, s.limit)
		negative += right / float64(n)
		middle += max(left-right, 0) / float64(n)
	}
	return negative, middle, nil
}

// Products are the names of the products in the order of Apply.
func (p Plates) Products() []string {
	return []string{"negative side", "middle", "positive side"}
}

// Apply parts a dry feed by the charges of its minerals, each class by the share of
// its spread of charges that is drawn past a splitter. Positive grains go to the
// negative side. Charge beyond what the gas bears is taken to have flown off.
//
// Units: a stream for each product.
//
// Range: as Deflection; less than 1 % of moisture; uncertain fields count with their
// means.
//
// Errors: as Deflection, and splitters missing or beyond the plates; minerals of which
// Charges says nothing; a mean charge beyond what the gas bears; a damp feed.
//
// Source: as Deflection; normal spread of charges: common practice; surfaces in
// proportion to volumes: stereology.
func (p Plates) Apply(feed stream.Stream) ([]stream.Stream, error) {
	if err := ready(feed, "plates"); err != nil {
		return nil, err
	}
	s, err := p.aim()
	if err != nil {
		return nil, err
	}
	c := feed.Classes()
	all, err := charges(c, p.Charges, "plates")
	if err != nil {
		return nil, err
	}
	for j, one := range all {
		if math.Abs(one.mean) > s.limit {
			return nil, fmt.Errorf("electrostatic: plates: the mean charge of %s is %s, and the gas bears %s", c.Particle(j).Name, quantity.Of(one.mean, "C/m2").To("µC/m2"), quantity.Of(s.limit, "C/m2").To("µC/m2"))
		}
	}
	products, partErr := parted(feed, p.Products(), func(i, j int) (float64, float64) {
		negative, middle, wrong := s.shares(all[j], c.Metres(i))
		if wrong != nil && err == nil {
			err = fmt.Errorf("%w (%s, %s)", wrong, c.Size(i), c.Particle(j).Name)
		}
		return negative, middle
	})
	if err != nil {
		return nil, err
	}
	return products, partErr
}

// Power is what the plates draw: Idle, and the charge that the grains carry over
// times the voltage.
//
// Units: in kW.
//
// Range: leakage over insulators is Idle's.
//
// Errors: as Apply.
//
// Source: work is charge times voltage.
func (p Plates) Power(feed stream.Stream) (quantity.Quantity, error) {
	if err := ready(feed, "plates"); err != nil {
		return quantity.Quantity{}, err
	}
	all, err := charges(feed.Classes(), p.Charges, "plates")
	if err != nil {
		return quantity.Quantity{}, err
	}
	r := fields.Of("electrostatic: plates")
	watts, volts := r.AtLeast("Idle", p.Idle, "W", 0), r.Positive("Voltage", p.Voltage, "V")
	for i := range feed.Classes().Sizes() {
		for j, one := range all {
			watts += volts * feed.Flow(i, j) * 6 * math.Abs(one.mean) / (one.density * feed.Classes().Metres(i))
		}
	}
	return quantity.Of(watts, "W").To("kW"), r.Err
}
