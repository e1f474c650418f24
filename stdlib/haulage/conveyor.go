package haulage

import (
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Conveyor is a belt that carries a rate over a length and a rise.
type Conveyor struct {
	Length     quantity.Quantity // between the pulleys
	Rise       quantity.Quantity // below 0 where the belt runs down; nothing for a level one
	Speed      quantity.Quantity // of the belt
	Moving     quantity.Quantity // mass of belt, both strands, and turning rollers, per length
	Friction   quantity.Quantity // f, a plain number; nothing for 0.02
	Special    quantity.Quantity // added for skirts, scrapers and tilted rollers, as a share; nothing for 0
	Efficiency quantity.Quantity // of the drive; nothing for 1
	Gravity    quantity.Quantity // nothing for the Earth's
}

// lengthCoefficient stands for friction that does not grow with length, at the
// feed and the pulleys (DIN 22101, ISO 5048), from a table seen at second hand.
var lengthCoefficient = numeric.Straight(
	[]float64{16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 300, 400, 500, 600, 700, 800, 900, 1000},
	negated(3.6, 3.2, 2.9, 2.6, 2.4, 2.2, 2.0, 1.9, 1.8, 1.65, 1.59, 1.47, 1.38, 1.33, 1.25, 1.20, 1.17, 1.13, 1.11, 1.08, 1.05))

// negated turns a falling table into a rising one, as curves are.
func negated(values ...float64) []float64 {
	for k := range values {
		values[k] = -values[k]
	}
	return values
}

// Pull is the force at the drive of a belt that carries a rate,
//
//	F = C·f·L·g·(m' + Q/v) + special + g·H·Q/v
//
// with C the length coefficient, m' the moving mass per length, Q/v the load per
// length. Special is a share of the first term.
//
// Units: rate as in t/h; the result in kN.
//
// Range: 16 m to 1000 m, longer belts with the C of 1000 m; belts that climb or fall
// gently enough for cos to be 1.
//
// Errors: quantities of another kind or outside their range, with the field.
//
// Source: main and secondary resistances of DIN 22101 and ISO 5048, as in design
// sheets seen at second hand.
func (c Conveyor) Pull(rate quantity.Quantity) (quantity.Quantity, error) {
	return c.through(rate, func(c Conveyor, rate quantity.Quantity) (quantity.Quantity, error) {
		b, err := c.belt(rate)
		return quantity.Of(b.force/1000, "kN"), err
	})
}

// Power is what the drive takes at a rate:
//
//	P = F·v/η
//
// and F·v·η, below 0, where the load drives the belt.
//
// Units: rate as in t/h; the result in kW.
//
// Range: as Pull.
//
// Errors: as Pull.
//
// Source: as Pull.
func (c Conveyor) Power(rate quantity.Quantity) (quantity.Quantity, error) {
	return c.through(rate, func(c Conveyor, rate quantity.Quantity) (quantity.Quantity, error) {
		b, err := c.belt(rate)
		if err != nil {
			return quantity.Quantity{}, err
		}
		power := b.force * b.speed / b.efficiency
		if b.force < 0 {
			power = b.force * b.speed * b.efficiency
		}
		return quantity.Of(power/1000, "kW"), nil
	})
}

func (c *Conveyor) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&c.Length, &c.Rise, &c.Speed, &c.Moving, &c.Friction, &c.Special, &c.Efficiency, &c.Gravity}
}

func (c Conveyor) through(rate quantity.Quantity, f func(c Conveyor, rate quantity.Quantity) (quantity.Quantity, error)) (quantity.Quantity, error) {
	values := []quantity.Quantity{rate}
	for _, field := range c.fields() {
		values = append(values, *field)
	}
	return through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		for k, field := range c.fields() {
			*field = v[k+1]
		}
		return f(c, v[0])
	}, values...)
}

type belt struct{ force, speed, efficiency float64 }

func (c Conveyor) belt(rate quantity.Quantity) (belt, error) {
	if c.Friction.IsNothing() {
		c.Friction = quantity.Number(0.02)
	}
	if c.Efficiency.IsNothing() {
		c.Efficiency = quantity.Number(1)
	}
	var b belt
	var length, rise, moving, friction, special, flow float64
	for _, f := range []struct {
		into       *float64
		q          quantity.Quantity
		unit, what string
		low, high  float64
	}{
		{&length, c.Length, "m", "Length of the belt", 16, 20000}, {&rise, c.Rise, "m", "Rise", -2000, 2000},
		{&b.speed, c.Speed, "m/s", "Speed of the belt", least, 20}, {&moving, c.Moving, "kg/m", "Moving mass per length", 0, infinite},
		{&friction, c.Friction, "1", "Friction", 0, 0.2}, {&special, c.Special, "1", "Special", 0, 5},
		{&b.efficiency, c.Efficiency, "1", "Efficiency", least, 1}, {&flow, rate, "kg/s", "rate", 0, infinite},
	} {
		if f.q.IsNothing() && f.low <= 0 {
			continue
		}
		var err error
		if *f.into, err = number(f.q, f.unit, f.what, f.low, f.high); err != nil {
			return belt{}, err
		}
	}
	g, err := gravityOf(c.Gravity)
	if err != nil {
		return belt{}, err
	}
	load := flow / b.speed
	coefficient := -lengthCoefficient.At(math.Min(length, 1000))
	b.force = coefficient*friction*length*g*(moving+load)*(1+special) + g*rise*load
	return b, nil
}

// BeltSpeed is the least speed at which a belt takes a volume flow:
//
//	v = Q/(k·B²)
//
// Units: a volume flow, the width of the belt, and k, a plain number that says how
// much of the width's square the load fills (some 0.1 for troughed belts). The
// result in m/s.
//
// Range: common belts.
//
// Errors: quantities of another kind or not above 0.
//
// Source: common practice; examination items of mining practice.
func BeltSpeed(volume, width, k quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(volume, "m³/s", "volume flow", least, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(width, "m", "width of the belt", least, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(k, "1", "filled share", least, 1); err != nil {
		return quantity.Quantity{}, err
	}
	return volume.Div(k.Mul(width).Mul(width)).To("m/s"), nil
}
