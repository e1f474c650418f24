package haulage

import (
	"math"

	"cobber/stdlib/quantity"
)

// Soil is ground that a blade cuts.
type Soil struct {
	Density  quantity.Quantity
	Cohesion quantity.Quantity // as in kPa; nothing for none
	Friction quantity.Quantity // angle of internal friction
}

// Blade is a wide flat blade that is pushed through ground.
type Blade struct {
	Width, Depth quantity.Quantity
	Rake         quantity.Quantity // angle between blade and direction, 90° for an upright one
	Friction     quantity.Quantity // angle of friction between ground and blade
	Surcharge    quantity.Quantity // pressure of ground heaped in front; nothing for none
}

// Cut is what it takes to cut ground.
type Cut struct {
	Draft  quantity.Quantity // force along the way
	Down   quantity.Quantity // force that presses the blade down; below 0 where it lifts it
	Energy quantity.Quantity // per mass of ground cut
	Angle  quantity.Quantity // at which the ground gives way, from the level
}

// Dig is the force on a blade by the wedge of ground it pushes up,
//
//	P = (γ·d²·Nγ + c·d·Nc + q·d·Nq)·w,  γ = ρ·g
//	Nγ = (cot α + cot β)/(2·D),  Nq = 2·Nγ,  Nc = (1 + cot β·cot(β+φ))/D
//	D = cos(α+δ) + sin(α+δ)·cot(β+φ)
//
// at the angle β that asks for the least P; the draft is P·sin(α+δ), and the energy
// for each tonne the draft over ρ·w·d.
//
// Units: an angle as in °; gravity nothing for the Earth's; forces in kN, energy in
// J/kg.
//
// Range: slow cutting by blades much wider than deep; friction of the ground to
// 50°. The part of weight grows with gravity, that of cohesion does not. Buckets,
// teeth, frozen ground and speed ask for more: machines use several times as much.
//
// Errors: quantities of another kind or outside their range; a rake and frictions
// at which no wedge gives way.
//
// Source: A.R. Reece, Proc. Inst. Mech. Eng. 179 (1964) 16; E. McKyes, Soil Cutting
// and Tillage (1985). For an upright smooth blade it is Rankine's passive earth
// pressure, for a rough one Coulomb's.
func Dig(s Soil, b Blade, gravity quantity.Quantity) (Cut, error) {
	inputs := []quantity.Quantity{s.Density, s.Cohesion, s.Friction, b.Width, b.Depth, b.Rake, b.Friction, b.Surcharge, gravity}
	var c Cut
	for k, into := range []*quantity.Quantity{&c.Draft, &c.Down, &c.Energy, &c.Angle} {
		q, err := through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			w, err := wedgeOf(v)
			if err != nil {
				return quantity.Quantity{}, err
			}
			return w.figures()[k], nil
		}, inputs...)
		if err != nil {
			return Cut{}, err
		}
		*into = q
	}
	return c, nil
}

// wedge is the ground before a blade in plain numbers, SI and radians.
type wedge struct {
	density, cohesion, friction, width, depth, rake, blade, surcharge, gravity float64
	force, angle                                                               float64
}

func wedgeOf(v []quantity.Quantity) (wedge, error) {
	var w wedge
	for k, f := range []struct {
		into       *float64
		unit, what string
		low, high  float64
	}{
		{&w.density, "kg/m³", "density of the ground", least, 1e4}, {&w.cohesion, "Pa", "cohesion", 0, 1e7},
		{&w.friction, "°", "angle of internal friction", 0, 50}, {&w.width, "m", "width of the blade", least, infinite},
		{&w.depth, "m", "depth of the cut", least, infinite}, {&w.rake, "°", "rake", 10, 150},
		{&w.blade, "°", "angle of friction on the blade", 0, 50}, {&w.surcharge, "Pa", "surcharge", 0, 1e7},
	} {
		if v[k].IsNothing() && f.low == 0 {
			continue
		}
		x, err := number(v[k], f.unit, f.what, f.low, f.high)
		if err != nil {
			return wedge{}, err
		}
		if f.unit == "°" {
			x *= math.Pi / 180
		}
		*f.into = x
	}
	var err error
	if w.gravity, err = gravityOf(v[8]); err != nil {
		return wedge{}, err
	}
	return w, w.giveWay()
}

// at is the force if the ground gives way at an angle.
func (w *wedge) at(angle float64) float64 {
	cot := func(x float64) float64 { return 1 / math.Tan(x) }
	below := math.Cos(w.rake+w.blade) + math.Sin(w.rake+w.blade)*cot(angle+w.friction)
	front := cot(w.rake) + cot(angle)
	if below <= 0 || front <= 0 {
		return infinite
	}
	weight := w.density * w.gravity * w.depth * w.depth * front / 2
	return w.width * (weight + w.cohesion*w.depth*(1+cot(angle)*cot(angle+w.friction)) + w.surcharge*w.depth*front) / below
}

// giveWay finds the angle of the least force, by steps, then by the golden
// section.
func (w *wedge) giveWay() error {
	const steps = 400
	highest := math.Pi - w.friction
	best := 0
	for k := 1; k < steps; k++ {
		if f := w.at(highest * float64(k) / steps); f > 0 && (best == 0 || f < w.at(highest*float64(best)/steps)) {
			best = k
		}
	}
	if best == 0 || math.IsInf(w.at(highest*float64(best)/steps), 1) {
		_, err := number(quantity.Of(w.rake*180/math.Pi, "°"), "°", "rake, for which no wedge of ground gives way with these frictions,", 0, 0)
		return err
	}
	low, high := highest*float64(best-1)/steps, highest*float64(best+1)/steps
	const golden = 0.6180339887498949
	for range 60 {
		a, b := high-golden*(high-low), low+golden*(high-low)
		if w.at(a) < w.at(b) {
			high = b
		} else {
			low = a
		}
	}
	w.angle = (low + high) / 2
	w.force = w.at(w.angle)
	return nil
}

// figures are those of Cut, in their order.
func (w *wedge) figures() [4]quantity.Quantity {
	draft := w.force * math.Sin(w.rake+w.blade)
	down := -w.force * math.Cos(w.rake+w.blade)
	return [4]quantity.Quantity{
		quantity.Of(draft/1000, "kN"), quantity.Of(down/1000, "kN"),
		quantity.Of(draft/(w.density*w.width*w.depth), "J/kg"), quantity.Of(w.angle*180/math.Pi, "°"),
	}
}

// Bucketwheel is what a wheel of buckets digs in loose volume:
//
//	Q = buckets·volume·fill·speed
//
// Units: volume of a bucket, fill a plain number or %, speed in rpm; the result in
// m³/h.
//
// Range: fill to 150 %, for heaped buckets.
//
// Errors: fewer than one bucket; quantities of another kind or outside their range.
//
// Source: common practice; examination items of mining practice.
func Bucketwheel(buckets int, volume, fill, speed quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(quantity.Number(float64(buckets)), "1", "number of buckets", 1, 1000); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(volume, "m³", "volume of a bucket", least, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(fill, "1", "fill", least, 1.5); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(speed, "rpm", "speed of the wheel", least, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	return through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		turns, err := v[2].Value("rpm")
		if err != nil {
			return quantity.Quantity{}, err
		}
		return quantity.Of(float64(buckets)*v[0].SI()*v[1].SI()*turns*60, "m³/h"), nil
	}, volume, fill, speed)
}
