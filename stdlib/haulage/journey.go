package haulage

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Journey sets a plant that travels with the face against one that stands still,
// some distance away, where the product is wanted. Both work the same ore. To the
// standing plant all ore is hauled; the travelling one rejects a share at the face,
// and only the rest is hauled, but it has to be moved, set up, and may work less
// well than a plant that stands.
type Journey struct {
	Ore       quantity.Quantity // mass to be worked
	Rate      quantity.Quantity // at which a plant works it, as in t/h
	Rejected  quantity.Quantity // share of the ore that the travelling plant leaves at the face
	ByProduct quantity.Quantity // share of the ore, out of what is rejected, that is wanted at home too; nothing for none

	Haul     Haul // the vehicle and its road; Legs say what a length of road is like: see Road
	Vehicles int  // that haul, in either case

	Standing   quantity.Quantity // energy per mass of ore of the plant that stands, as in kWh/t
	Travelling quantity.Quantity // the same of the plant that travels

	Plant   quantity.Quantity // mass of the travelling plant
	Rolling quantity.Quantity // what the face's ground resists it with, as a share of its weight
	Step    quantity.Quantity // how far it moves at a time
	Worked  quantity.Quantity // ore worked between two moves
	SetUp   quantity.Quantity // time lost by each move, beside the way
	Crawl   quantity.Quantity // speed of the plant as it moves
	Drive   quantity.Quantity // efficiency of its drive; nothing for 1
}

// Way is what one of the two plants takes for all the ore.
type Way struct {
	Hauled     quantity.Quantity // mass
	Processing quantity.Quantity // energies
	Haulage    quantity.Quantity
	Moving     quantity.Quantity
	Energy     quantity.Quantity // of all three
	PerTonne   quantity.Quantity // per mass of ore
	Time       quantity.Quantity // the longer of working and hauling, and the moves
	Moves      quantity.Quantity // number
}

// Ways are both plants at one distance. Journey.At makes them.
type Ways struct {
	Distance             quantity.Quantity
	Standing, Travelling Way
}

func (j *Journey) fields() []*quantity.Quantity {
	return append([]*quantity.Quantity{&j.Ore, &j.Rate, &j.Rejected, &j.ByProduct, &j.Standing, &j.Travelling,
		&j.Plant, &j.Rolling, &j.Step, &j.Worked, &j.SetUp, &j.Crawl, &j.Drive}, j.Haul.fields()...)
}

// through carries the uncertainty of all fields, and of others, through f.
func (j Journey) through(f func(j Journey, others []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	j.Haul.Legs = slices.Clone(j.Haul.Legs)
	values := slices.Clone(others)
	for _, field := range j.fields() {
		values = append(values, *field)
	}
	return through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		j.Haul.Legs = slices.Clone(j.Haul.Legs)
		for k, field := range j.fields() {
			*field = v[len(others)+k]
		}
		return f(j, v[:len(others)])
	}, values...)
}

// way is a Way in plain numbers, SI.
type way struct{ hauled, processing, haulage, moving, time, moves, ore float64 }

func (w way) energy() float64 { return w.processing + w.haulage + w.moving }

// stretched is the haul with its legs stretched to a distance.
func (h Haul) stretched(metres float64) (Haul, error) {
	h.Legs = slices.Clone(h.Legs)
	var sum float64
	for k, leg := range h.Legs {
		x, err := number(leg.Distance, "m", fmt.Sprintf("Distance of leg %d", k+1), least, infinite)
		if err != nil {
			return h, err
		}
		sum += x
	}
	for k := range h.Legs {
		h.Legs[k].Distance = quantity.Of(h.Legs[k].Distance.SI()*metres/sum, "m")
	}
	return h, nil
}

// numbers are the plain fields of a journey.
type numbers struct {
	ore, rate, rejected, byProduct, standing, travelling, plant, rolling, step, worked, setUp, crawl, drive, gravity float64
}

func (j Journey) numbers() (n numbers, err error) {
	if j.Drive.IsNothing() {
		j.Drive = quantity.Number(1)
	}
	for _, f := range []struct {
		into       *float64
		q          quantity.Quantity
		unit, what string
		low, high  float64
	}{
		{&n.ore, j.Ore, "kg", "Ore, a mass,", least, infinite}, {&n.rate, j.Rate, "kg/s", "Rate", least, infinite},
		{&n.rejected, j.Rejected, "1", "Rejected", 0, 1}, {&n.byProduct, j.ByProduct, "1", "ByProduct", 0, 1},
		{&n.standing, j.Standing, "J/kg", "Standing, energy per mass of ore,", 0, infinite},
		{&n.travelling, j.Travelling, "J/kg", "Travelling, energy per mass of ore,", 0, infinite},
		{&n.plant, j.Plant, "kg", "Plant, the mass that travels,", 0, infinite}, {&n.rolling, j.Rolling, "1", "Rolling", 0, 1},
		{&n.step, j.Step, "m", "Step", 0, infinite}, {&n.worked, j.Worked, "kg", "Worked, the ore between two moves,", least, infinite},
		{&n.setUp, j.SetUp, "s", "SetUp", 0, infinite}, {&n.crawl, j.Crawl, "m/s", "Crawl", least, infinite},
		{&n.drive, j.Drive, "1", "Drive", least, 1},
	} {
		if f.q.IsNothing() && f.low == 0 {
			continue
		}
		if *f.into, err = number(f.q, f.unit, f.what, f.low, f.high); err != nil {
			return n, err
		}
	}
	if n.byProduct > n.rejected {
		return n, fmt.Errorf("haulage: ByProduct, %v of the ore, is more than is rejected at the face, %v", j.ByProduct, j.Rejected)
	}
	if j.Vehicles < 1 {
		return n, fmt.Errorf("haulage: Vehicles, %d, haul nothing", j.Vehicles)
	}
	n.gravity, err = gravityOf(j.Haul.Gravity)
	return n, err
}

// ways works out both plants, the product being wanted so many metres away.
func (j Journey) ways(metres float64) (standing, travelling way, err error) {
	n, err := j.numbers()
	if err != nil {
		return way{}, way{}, err
	}
	road := round{payload: 1}
	if metres > 0 {
		haul, err := j.Haul.stretched(metres)
		if err != nil {
			return way{}, way{}, err
		}
		if road, err = haul.round(); err != nil {
			return way{}, way{}, err
		}
	}
	carry := func(w *way, mass float64) {
		w.ore, w.hauled = n.ore, mass
		trips := mass / road.payload
		w.haulage = trips * road.energy
		w.time = max(n.ore/n.rate, trips*(road.out+road.back+road.load+road.dump)/float64(j.Vehicles))
	}
	carry(&standing, n.ore)
	standing.processing = n.ore * n.standing
	carry(&travelling, n.ore*(1-n.rejected+n.byProduct))
	travelling.processing = n.ore * n.travelling
	travelling.moves = math.Max(0, math.Ceil(n.ore/n.worked-1e-9)-1)
	travelling.moving = travelling.moves * n.plant * n.gravity * n.rolling * n.step / n.drive
	travelling.time += travelling.moves * (n.setUp + n.step/n.crawl)
	return standing, travelling, nil
}

// At is both plants with the product wanted at a distance. Distances are along the
// road; the legs of the haul are stretched to it in their proportions. With a distance of 0 nothing is
// hauled.
//
//	hauled by the travelling plant = ore·(1 − rejected + by-product)
//	moves = ⌈ore/worked⌉ − 1,  energy of moves = moves·m·g·r·step/η
//	time = max(ore/rate, rounds·time of a round/vehicles) + moves·(set-up + step/crawl)
//
// Units: distance a length; energies in MWh, PerTonne in kWh/t, times in d, masses
// in t.
//
// Range: level ground at the face; vehicles that are always there when the plant
// stands still. What digging takes is the same for both and left out.
//
// Errors: quantities of another kind or outside their range, with the field.
//
// Source: balance of energy and time; the comparison is our own.
func (j Journey) At(distance quantity.Quantity) (Ways, error) {
	ways := Ways{Distance: distance}
	for k, w := range []*Way{&ways.Standing, &ways.Travelling} {
		for _, part := range []struct {
			into *quantity.Quantity
			of   func(w way) quantity.Quantity
		}{
			{&w.Hauled, func(w way) quantity.Quantity { return quantity.Of(w.hauled/1000, "t") }},
			{&w.Processing, func(w way) quantity.Quantity { return megawatthours(w.processing) }},
			{&w.Haulage, func(w way) quantity.Quantity { return megawatthours(w.haulage) }},
			{&w.Moving, func(w way) quantity.Quantity { return megawatthours(w.moving) }},
			{&w.Energy, func(w way) quantity.Quantity { return megawatthours(w.energy()) }},
			{&w.PerTonne, func(w way) quantity.Quantity { return quantity.Of(w.energy()/w.ore/3600, "kWh/t") }},
			{&w.Time, func(w way) quantity.Quantity { return quantity.Of(w.time/86400, "d") }},
			{&w.Moves, func(w way) quantity.Quantity { return quantity.Number(w.moves) }},
		} {
			q, err := j.through(func(j Journey, v []quantity.Quantity) (quantity.Quantity, error) {
				metres, err := number(v[0], "m", "distance", 0, infinite)
				if err != nil {
					return quantity.Quantity{}, err
				}
				standing, travelling, err := j.ways(metres)
				return part.of([]way{standing, travelling}[k]), err
			}, distance)
			if err != nil {
				return Ways{}, err
			}
			*part.into = q
		}
	}
	return ways, nil
}

func megawatthours(joules float64) quantity.Quantity { return quantity.Of(joules/3.6e9, "MWh") }

// Table sets the two side by side.
func (w Ways) Table() table.Table {
	var names, standing, travelling []string
	for _, row := range []struct {
		name string
		s, t quantity.Quantity
	}{
		{"hauled", w.Standing.Hauled, w.Travelling.Hauled}, {"energy of processing", w.Standing.Processing, w.Travelling.Processing},
		{"energy of haulage", w.Standing.Haulage, w.Travelling.Haulage}, {"energy of moves", w.Standing.Moving, w.Travelling.Moving},
		{"energy in all", w.Standing.Energy, w.Travelling.Energy}, {"energy per ore", w.Standing.PerTonne, w.Travelling.PerTonne},
		{"moves", w.Standing.Moves, w.Travelling.Moves}, {"time", w.Standing.Time, w.Travelling.Time},
	} {
		names, standing, travelling = append(names, row.name), append(standing, row.s.String()), append(travelling, row.t.String())
	}
	return tabled(fmt.Sprintf("Two plants, the product wanted %v away", w.Distance), table.Texts("figure", names),
		table.Texts("stands", standing), table.Texts("travels", travelling))
}

// String is Table as text.
func (w Ways) String() string { return w.Table().String() }

// HTML is Table as HTML.
func (w Ways) HTML() string { return w.Table().HTML() }

// Markdown is Table as Markdown.
func (w Ways) Markdown() string { return w.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (w Ways) LaTeX() string { return w.Table().LaTeX() }
