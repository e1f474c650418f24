package haulage

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Fleet is how many vehicles a rate takes.
type Fleet struct {
	Vehicles int
	Needed   quantity.Quantity // before rounding up, a plain number
	Rate     quantity.Quantity // what that many carry, as in t/h
	Match    quantity.Quantity // match factor: above 1 vehicles wait for the loader, below 1 it waits for them
	PerTonne quantity.Quantity // energy per payload, as of the cycle
	Power    quantity.Quantity // mean power of the fleet at the rate asked for
}

// Fleet is the number of vehicles that carry a rate,
//
//	n = rate·time/(payload·availability)
//
// rounded up, and how they match loaders:
//
//	match factor = n·loading time/(loaders·time)
//
// Units: rate as in t/h; availability a plain number or %, the share of the hour
// that vehicles are at work; loaders a count.
//
// Range: alike vehicles. Queues are not in it: near a match factor of 1 vehicles and
// loaders both wait now and then, and less is carried.
//
// Errors: a rate of another kind or not above 0; an availability outside 0 to 1; a
// loader less than one.
//
// Source: match factor: C.N. Burt, L. Caccetta, Int. J. Min. Reclam. Environ. 21
// (2007) 262; numbers: common practice.
func (c Cycle) Fleet(rate, availability quantity.Quantity, loaders int) (Fleet, error) {
	if _, err := number(rate, "t/h", "rate", least, infinite); err != nil {
		return Fleet{}, err
	}
	if _, err := number(availability, "1", "availability", least, 1); err != nil {
		return Fleet{}, err
	}
	if loaders < 1 {
		return Fleet{}, fmt.Errorf("haulage: %d loaders load nothing", loaders)
	}
	one := c.Payload.Mul(availability).Div(c.Time).To("t/h")
	f := Fleet{Needed: rate.Div(one).To("1"), PerTonne: c.PerTonne, Power: rate.Mul(c.PerTonne).To("kW")}
	f.Vehicles = int(math.Ceil(f.Needed.SI() - 1e-9))
	count := quantity.Number(float64(f.Vehicles))
	f.Rate = one.Mul(count)
	f.Match = count.Mul(c.Loading).Div(c.Time).Div(quantity.Number(float64(loaders))).To("1")
	return f, nil
}

// String is the fleet in one line.
func (f Fleet) String() string {
	return fmt.Sprintf("%d vehicles (%.3v needed) carry up to %.4v; match factor %.3v; %.4v", f.Vehicles, f.Needed, f.Rate, f.Match, f.Power)
}
