package published

import (
	"testing"

	"cobber/stdlib/comminution"
	"cobber/stdlib/quantity"
)

func metresPerSecondSquared(g float64) quantity.Quantity { return quantity.Of(g, "m/s²") }

// TestCriticalSpeed: J.M. Coulson, J.F. Richardson, Chemical Engineering vol. 2,
// example 2.3: a ball mill of 1.2 m; 4.04 rad/s, 0.643 Hz. The rule of the trade is
// 42.3/√D rpm.
func TestCriticalSpeed(t *testing.T) {
	n := must[quantity.Quantity](t)(comminution.CriticalSpeed(quantity.Of(1.2, "m"), quantity.Of(0, "m"), metresPerSecondSquared(9.81)))
	near(t, "rad/s", in(t, n, "rad/s"), 4.04, 1e-3)
	near(t, "turns per second", in(t, n, "rpm")/60, 0.643, 1e-3)
	one := must[quantity.Quantity](t)(comminution.CriticalSpeed(quantity.Of(1, "m"), quantity.Of(0, "m"), metresPerSecondSquared(9.81)))
	near(t, "42.3", in(t, one, "rpm"), 42.3, 1e-3)
}

// TestNipOfRolls: the same book, example 2.2: rolls of 1 m with a gap of 12.5 mm and an
// angle of nip of 31° take particles of 25 mm radius.
func TestNipOfRolls(t *testing.T) {
	r := comminution.RollPair{Diameter: quantity.Of(1, "m"), Gap: quantity.Of(12.5, "mm")}
	d := must[quantity.Quantity](t)(r.Nip(quantity.Of(31, "deg")))
	near(t, "radius, mm", in(t, d, "mm")/2, 25, 0.02)
}

// TestBatchOfRhodes: M. Rhodes, Introduction to Particle Technology, 2nd ed., worked
// example 12.2 (from memory): six classes; after a step of a minute 0.06, 0.2048, 0.288,
// 0.1816, 0.1429, 0.1227. The book's step is the slope at the beginning times a minute;
// the solution of the same equations over a minute is that of the matrix exponential,
// here by SciPy.
func TestBatchOfRhodes(t *testing.T) {
	plain := func(values ...float64) []quantity.Quantity { return quantities("1", values...) }
	g := must[comminution.Grinding](t)(comminution.NewGrinding(
		quantities("µm", 212, 150, 106, 75, 53, 37), quantities("1/min", 0.7, 0.6, 0.5, 0.35, 0.3, 0),
		[][]quantity.Quantity{plain(0.32, 0.3, 0.14, 0.12, 0.12), plain(0.4, 0.2, 0.2, 0.2), plain(0.5, 0.25, 0.25), plain(0.6, 0.4), plain(1)}))
	feed := plain(0.2, 0.4, 0.3, 0.06, 0.04, 0)
	const instant = 1e-7 // min
	soon := must[[]quantity.Quantity](t)(g.Batch(feed, quantity.Of(instant, "min")))
	later := must[[]quantity.Quantity](t)(g.Batch(feed, quantity.Of(1, "min")))
	for i, printed := range []float64{0.06, 0.2048, 0.288, 0.1816, 0.1429, 0.1227} {
		slope := (soon[i].SI() - feed[i].SI()) / instant
		within(t, "a step of a minute", feed[i].SI()+slope, printed, 6e-5)
	}
	for i, exact := range []float64{0.099317, 0.242922, 0.263411, 0.145309, 0.122903, 0.126138} {
		within(t, "a minute", later[i].SI(), exact, 1e-6)
	}
}

// TestThrownEnergy: D. Djordjevic, F.N. Shi, R.D. Morrison, Minerals Engineering 16
// (2003) 983: the impact energy of a crusher with a vertical shaft is
// 3.046·10⁻⁶·R²·n² kWh/t with R in m and n in rpm (from memory).
func TestThrownEnergy(t *testing.T) {
	r := comminution.Rotor{Diameter: quantity.Of(0.85, "m"), Speed: quantity.Of(1500, "rpm")}
	e := must[quantity.Quantity](t)(r.ImpactEnergy(comminution.Thrown))
	near(t, "kWh/t", in(t, e, "kWh/t"), 3.046e-6*0.425*0.425*1500*1500, 2e-4)
}

// TestRimOfAFlywheel: R.S. Khurmi, J.K. Gupta, A Textbook of Machine Design, flywheels
// (from memory): a rim of cast iron, 7250 kg/m³, reaches 6 MPa at 28.76 m/s.
func TestRimOfAFlywheel(t *testing.T) {
	v := must[quantity.Quantity](t)(comminution.LimitingSpeed(quantity.Of(6, "MPa"), quantity.Of(7250, "kg/m³"), comminution.Rim))
	near(t, "m/s", in(t, v, "m/s"), 28.76, 5e-4)
}

// TestJawOfRoseAndEnglish: H.E. Rose, J.E. English (1967): the critical speed of a jaw
// crusher is 47·√((R − 1)/(R·T)) rpm, T in m (from memory).
func TestJawOfRoseAndEnglish(t *testing.T) {
	j := comminution.Jaw{Gape: quantity.Of(1, "m"), Set: quantity.Of(0.2, "m"), Width: quantity.Of(1, "m"),
		Throw: quantity.Of(0.04, "m"), Speed: quantity.Of(100, "rpm")}
	n := must[quantity.Quantity](t)(j.CriticalSpeed())
	near(t, "rpm", in(t, n, "rpm"), 47*2/0.2/2.2360679775, 1e-3) // √0.8/√0.04
}
