package published

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/screening"
)

// TestChancesOfPassage: A.F. Taggart, Handbook of Mineral Dressing (1945), as repeated in
// B.A. Wills, Mineral Processing Technology, ch. 8 (values from memory): of 1000 particles
// of so many times the opening, those that pass an opening at one try between thin wires.
func TestChancesOfPassage(t *testing.T) {
	mesh := screening.Mesh{Opening: quantity.Of(1, "mm")}
	for ratio, published := range map[float64]float64{0.001: 998, 0.01: 980, 0.1: 810, 0.2: 640, 0.3: 490, 0.4: 360, 0.5: 250} {
		p := must[quantity.Quantity](t)(mesh.Chance(quantity.Of(ratio, "mm")))
		within(t, "of a thousand", 1000*in(t, p, "1"), published, 0.5)
	}
}

// TestWholeThrow: in the design of vibrating screens a throw lasts a whole turn of the
// drive at a throw number of 3.3, exactly √(1 + π²) (common practice; value from memory),
// and generally cot φ = (2π²i² + cos 2πi − 1)/(2πi − sin 2πi) with i the turns of a throw
// and sin φ = 1/K.
func TestWholeThrow(t *testing.T) {
	motion := screening.Motion{Stroke: quantity.Of(10, "mm")}
	for _, turns := range []float64{0.3, 0.6, 0.9, 1} {
		x := 2 * math.Pi * turns
		cotangent := (x*x/2 + math.Cos(x) - 1) / (x - math.Sin(x))
		number := math.Sqrt(1 + cotangent*cotangent)
		motion.Speed = must[quantity.Quantity](t)(motion.SpeedFor(quantity.Number(number)))
		i := must[quantity.Quantity](t)(motion.Flight())
		near(t, "turns of a throw", in(t, i, "1"), turns, 1e-6)
		if turns == 1 {
			near(t, "throw number", number, 3.3, 2e-3)
		}
	}
}

// TestBasicCapacity: an article on the area method of the vibrating screen makers
// (nesansindia.com, "sizing vibrating screen", representative values) has 9, 16, 25 and
// 38 t/(h·m²) for openings of 5, 10, 20 and 40 mm at 1.6 t/m³. Tables of makers differ by a
// third, and so may the one here.
func TestBasicCapacity(t *testing.T) {
	for opening, published := range map[float64]float64{5: 9, 10: 16, 20: 25, 40: 38} {
		c := must[screening.Capacity](t)(screening.CapacityOf(screening.Mesh{Opening: quantity.Of(opening, "mm")},
			screening.Load{Oversize: pc(25), HalfSize: pc(40), NearSize: pc(10), Bulk: quantity.Of(1.6, "t/m³")}))
		near(t, "t/(h·m²)", in(t, c.Factors[0], "t/(h*m2)"), published, 0.3)
	}
}
