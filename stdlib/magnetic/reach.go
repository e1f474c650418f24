package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Reach is the greatest distance from the shell at which a grain that is not yet
// on it is drawn up to it below the axis, at an angle from the top:
//
//	f(y) = −g·cos θ
//
// At 180° that is a drum hung over a feed. What is caught there stays until Release,
// which is later, since the pull is greater on the shell: the two angles differ as
// capture and release do.
//
// Units: angle as in deg; a length, 0 for a grain that is not lifted even from the
// shell.
//
// Range: grains at rest, alone, from 90 to 180°; above the axis weight brings them
// to the shell anyhow.
//
// Errors: as Release; an angle outside the range, or beyond the magnets; gravity 0,
// in which any pull reaches any distance.
//
// Source: balance of pull and weight; common practice.
func (d Drum) Reach(g Grain, angle quantity.Quantity) (quantity.Quantity, error) {
	return d.on(g, Drum.turning, func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error) {
		theta := r.Within("the angle", v[0], "rad", math.Pi/2, math.Pi, math.NaN())
		if r.Err == nil && theta > t.arc+1e-12 {
			r.Fail("the magnets end at %s, before %v", quantity.Of(t.arc, "rad").To("deg"), v[0])
		}
		weight := -t.gravity * math.Cos(theta)
		if r.Err == nil && weight < 1e-9 {
			r.Fail("at %v no weight draws the grain from the drum", v[0])
		}
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		if b.pull(t.field, 0) <= weight {
			return quantity.Of(0, "mm"), nil
		}
		far := 1 / t.field.decay
		for b.pull(t.field, far) > weight && far < 1e3 {
			far *= 2
		}
		return quantity.Of(root(func(y float64) float64 { return weight - b.pull(t.field, y) }, 0, far), "m").To("mm"), nil
	}, angle)
}
