package haulage

import (
	"errors"
	"fmt"
	"slices"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Vehicle is a truck, a wagon or a train.
type Vehicle struct {
	Empty, Payload quantity.Quantity // masses
	Power          quantity.Quantity // of the engine or the battery
	Efficiency     quantity.Quantity // of the drive, from engine or battery to wheels; nothing for 1
	Recovered      quantity.Quantity // share of what braking downhill gives back; nothing for 0
}

// Leg is a stretch of road of one kind, as it lies on the way to the plant: its
// grade is above 0 where the loaded vehicle climbs.
type Leg struct {
	Distance, Grade, Rolling quantity.Quantity
	Limit                    quantity.Quantity // of speed, loaded
	EmptyLimit               quantity.Quantity // of speed on the way back; nothing for Limit
}

// Haul is a vehicle that goes to and fro: loaded along the legs, back with what
// Return says, with times at both ends.
type Haul struct {
	Vehicle Vehicle
	Legs    []Leg
	Load    quantity.Quantity // time to be loaded, waiting included
	Dump    quantity.Quantity // time to dump, turning included
	Return  quantity.Quantity // mass carried back, as by-products or filling; nothing for an empty return
	Gravity quantity.Quantity // nothing for the Earth's
}

// Cycle is a round of a Haul.
type Cycle struct {
	Time      quantity.Quantity // of the round
	Out, Back quantity.Quantity // times on the road
	Energy    quantity.Quantity // of the round
	PerTonne  quantity.Quantity // energy per mass of payload
	PerKm     quantity.Quantity // energy per mass of payload and distance one way
	Distance  quantity.Quantity // one way
	Payload   quantity.Quantity
	Loading   quantity.Quantity // time to be loaded
}

// fields are all quantities of a haul, to be replaced one by one.
func (h *Haul) fields() []*quantity.Quantity {
	v := &h.Vehicle
	all := []*quantity.Quantity{&v.Empty, &v.Payload, &v.Power, &v.Efficiency, &v.Recovered, &h.Load, &h.Dump, &h.Return, &h.Gravity}
	for k := range h.Legs {
		leg := &h.Legs[k]
		all = append(all, &leg.Distance, &leg.Grade, &leg.Rolling, &leg.Limit, &leg.EmptyLimit)
	}
	return all
}

// through carries the uncertainty of all fields through a function of a haul.
func (h Haul) through(f func(h Haul) (quantity.Quantity, error)) (quantity.Quantity, error) {
	h.Legs = slices.Clone(h.Legs)
	var values []quantity.Quantity
	for _, field := range h.fields() {
		values = append(values, *field)
	}
	return through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		h.Legs = slices.Clone(h.Legs)
		for k, field := range h.fields() {
			*field = v[k]
		}
		return f(h)
	}, values...)
}

// round is a round trip in plain numbers, SI.
type round struct{ out, back, energy, distance, payload, load, dump float64 }

// Cycle is the time and energy of a round. On each leg the vehicle goes as fast as
// the limit and its power allow,
//
//	v = min(limit, η·P/F),  E = Σ F·s/η
//
// where F is the pull of the leg. Downhill, where F is below 0, braking gives back
// the share Recovered of −F·s·η.
//
// Units: times in min, energies in kWh, kWh/t and kWh/(t·km).
//
// Range: steady speeds; starting and stopping are not in it. Where uncertain, in
// all its fields.
//
// Errors: no legs; quantities of another kind or outside their range, with the
// leg; a leg that the vehicle cannot climb at a walk (0.1 m/s).
//
// Source: balance of forces and energy; common practice of haulage.
func (h Haul) Cycle() (Cycle, error) {
	var c Cycle
	for _, part := range []struct {
		into *quantity.Quantity
		of   func(r round) quantity.Quantity
	}{
		{&c.Time, func(r round) quantity.Quantity { return minutes(r.out + r.back + r.load + r.dump) }},
		{&c.Out, func(r round) quantity.Quantity { return minutes(r.out) }},
		{&c.Back, func(r round) quantity.Quantity { return minutes(r.back) }},
		{&c.Energy, func(r round) quantity.Quantity { return quantity.Of(r.energy/3.6e6, "kWh") }},
		{&c.PerTonne, func(r round) quantity.Quantity { return quantity.Of(r.energy/3600/r.payload, "kWh/t") }},
		{&c.PerKm, func(r round) quantity.Quantity {
			return quantity.Of(r.energy/3.6/r.payload/r.distance, "kWh/(t·km)")
		}},
		{&c.Distance, func(r round) quantity.Quantity { return quantity.Of(r.distance/1000, "km") }},
		{&c.Payload, func(r round) quantity.Quantity { return quantity.Of(r.payload/1000, "t") }},
		{&c.Loading, func(r round) quantity.Quantity { return minutes(r.load) }},
	} {
		q, err := h.through(func(h Haul) (quantity.Quantity, error) {
			r, err := h.round()
			if err != nil {
				return quantity.Quantity{}, err
			}
			return part.of(r), nil
		})
		if err != nil {
			return Cycle{}, err
		}
		*part.into = q
	}
	return c, nil
}

func minutes(seconds float64) quantity.Quantity { return quantity.Of(seconds/60, "min") }

// drive is a vehicle in plain numbers, SI.
type drive struct{ empty, payload, home, power, efficiency, recovered, gravity float64 }

func (h Haul) drive() (d drive, err error) {
	v := h.Vehicle
	if v.Efficiency.IsNothing() {
		v.Efficiency = quantity.Number(1)
	}
	for _, f := range []struct {
		into       *float64
		q          quantity.Quantity
		unit, what string
		low, high  float64
	}{
		{&d.empty, v.Empty, "kg", "Empty, the mass of the vehicle", 0, infinite},
		{&d.payload, v.Payload, "kg", "Payload", least, infinite},
		{&d.home, h.Return, "kg", "Return, the mass carried back", 0, infinite},
		{&d.power, v.Power, "W", "Power", least, infinite},
		{&d.efficiency, v.Efficiency, "1", "Efficiency", least, 1},
		{&d.recovered, v.Recovered, "1", "Recovered", 0, 1},
	} {
		if f.q.IsNothing() && f.low == 0 {
			continue
		}
		if *f.into, err = number(f.q, f.unit, f.what, f.low, f.high); err != nil {
			return drive{}, err
		}
	}
	d.gravity, err = gravityOf(h.Gravity)
	return d, err
}

func (h Haul) round() (round, error) {
	d, err := h.drive()
	if err != nil {
		return round{}, err
	}
	if len(h.Legs) == 0 {
		return round{}, errors.New("haulage: a haul needs at least one Leg")
	}
	r := round{payload: d.payload}
	for k, leg := range h.Legs {
		out, back, energy, distance, err := d.leg(leg)
		if err != nil {
			return round{}, fmt.Errorf("leg %d: %w", k+1, err)
		}
		r.out, r.back, r.energy, r.distance = r.out+out, r.back+back, r.energy+energy, r.distance+distance
	}
	for _, end := range []struct {
		into *float64
		q    quantity.Quantity
		what string
	}{{&r.load, h.Load, "Load, the time to be loaded"}, {&r.dump, h.Dump, "Dump, the time to dump"}} {
		if end.q.IsNothing() {
			continue
		}
		if *end.into, err = number(end.q, "s", end.what, 0, infinite); err != nil {
			return round{}, err
		}
	}
	return r, nil
}

// leg is a leg both ways.
func (d drive) leg(leg Leg) (out, back, energy, distance float64, err error) {
	if distance, err = number(leg.Distance, "m", "Distance", least, infinite); err != nil {
		return
	}
	if leg.EmptyLimit.IsNothing() {
		leg.EmptyLimit = leg.Limit
	}
	var used float64
	if out, used, err = d.way(distance, d.empty+d.payload, leg.Rolling, leg.Grade, leg.Limit); err != nil {
		return
	}
	energy = used
	down := leg.Grade.Neg()
	if leg.Grade.IsNothing() {
		down = leg.Grade
	}
	back, used, err = d.way(distance, d.empty+d.home, leg.Rolling, down, leg.EmptyLimit)
	return out, back, energy + used, distance, err
}

// way is the time and energy of a mass along a leg.
func (d drive) way(distance, mass float64, rolling, grade, limit quantity.Quantity) (time, energy float64, err error) {
	share, err := resisting(rolling, grade)
	if err != nil {
		return 0, 0, err
	}
	speed, err := number(limit, "m/s", "Limit of speed", least, infinite)
	if err != nil {
		return 0, 0, err
	}
	force := mass * d.gravity * share
	if force <= 0 {
		return distance / speed, force * distance * d.efficiency * d.recovered, nil
	}
	if able := d.efficiency * d.power / force; able < speed {
		speed = able
	}
	if speed < 0.1 {
		return 0, 0, fmt.Errorf("haulage: %.4g t need %.4g kN, at which %.4g kW drive them at less than a walk (%.2g m/s)", mass/1000, force/1000, d.power/1000, speed)
	}
	return distance / speed, force * distance / d.efficiency, nil
}

// Table is the round in words and figures.
func (c Cycle) Table() table.Table {
	var names []string
	var values []string
	for _, row := range []struct {
		name  string
		value quantity.Quantity
	}{{"distance one way", c.Distance}, {"payload", c.Payload}, {"time of a round", c.Time}, {"of that loaded on the road", c.Out}, {"of that back on the road", c.Back},
		{"energy of a round", c.Energy}, {"energy per payload", c.PerTonne}, {"energy per payload and distance", c.PerKm}} {
		names, values = append(names, row.name), append(values, row.value.String())
	}
	return tabled("Haulage, one round", table.Texts("figure", names), table.Texts("value", values))
}

// String is Table as text.
func (c Cycle) String() string { return c.Table().String() }

// HTML is Table as HTML.
func (c Cycle) HTML() string { return c.Table().HTML() }

// Markdown is Table as Markdown.
func (c Cycle) Markdown() string { return c.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (c Cycle) LaTeX() string { return c.Table().LaTeX() }
