package haulage

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

var of = quantity.Of

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func near(t testing.TB, what string, got quantity.Quantity, want float64, unit string, tolerance float64) {
	t.Helper()
	x, err := got.Value(unit)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if !(math.Abs(x-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s is %.10g %s, want %.10g", what, x, unit, want)
	}
}

// dump is a truck on a road of our own.
func dump() Haul {
	return Haul{
		Vehicle: Vehicle{Empty: of(20, "t"), Payload: of(30, "t"), Power: of(300, "kW"), Efficiency: quantity.Number(0.8)},
		Legs:    []Leg{{Distance: of(2, "km"), Grade: of(0, "%"), Rolling: of(3, "%"), Limit: of(36, "km/h")}},
		Load:    of(3, "min"), Dump: of(1, "min"), Gravity: of(10, "m/s²"),
	}
}

// By hand: 50 t at 3 % need 15 kN, 150 kW at 10 m/s, less than 240 kW; back 6 kN.
func TestCycleByHand(t *testing.T) {
	c := must[Cycle](t)(dump().Cycle())
	near(t, "out", c.Out, 200.0/60, "min", 1e-9)
	near(t, "time", c.Time, 400.0/60+4, "min", 1e-9)
	near(t, "energy", c.Energy, (15e3+6e3)*2000/0.8/3.6e6, "kWh", 1e-9)
	near(t, "per tonne", c.PerTonne, (15e3+6e3)*2000/0.8/3.6e6/30, "kWh/t", 1e-9)
	near(t, "per tonne and kilometre", c.PerKm, (15e3+6e3)*2000/0.8/3.6e6/60, "kWh/(t·km)", 1e-9)
	f := must[Fleet](t)(c.Fleet(of(400, "t/h"), of(80, "%"), 1))
	// 30 t in 10.667 min at 80 %: 135 t/h each.
	near(t, "needed", f.Needed, 400.0/135, "1", 1e-9)
	near(t, "match", f.Match, 3*3/(400.0/60+4), "1", 1e-9)
	if f.Vehicles != 3 {
		t.Errorf("%d vehicles", f.Vehicles)
	}
	for _, text := range []string{c.String(), f.String()} {
		if !strings.Contains(text, "vehicles") && !strings.Contains(text, "round") {
			t.Errorf("shown as %s", text)
		}
	}
}

func TestPowerLimitsSpeed(t *testing.T) {
	h := dump()
	h.Legs[0].Grade = of(10, "%") // 13 % of 500 kN: 65 kN less the cosine; 240 kW
	c := must[Cycle](t)(h.Cycle())
	force := 500e3 * 0.13 / math.Hypot(1, 0.1)
	near(t, "out", c.Out, 2000*force/240e3/60, "min", 1e-9)
	h.Vehicle.Recovered = of(50, "%")
	again := must[Cycle](t)(h.Cycle())
	back := 200e3 * 0.07 / math.Hypot(1, 0.1)
	near(t, "recovered", c.Energy.Sub(again.Energy), back*2000*0.8*0.5/3.6e6, "kWh", 1e-9)
}

// With all losses recovered and no rolling, up and down with the same mass take
// nothing.
func TestUpAndDownIsNothing(t *testing.T) {
	h := dump()
	h.Vehicle.Efficiency, h.Vehicle.Recovered = quantity.Number(1), quantity.Number(1)
	h.Legs[0].Grade, h.Legs[0].Rolling, h.Return = of(8, "%"), quantity.Number(0), of(30, "t")
	near(t, "energy", must[Cycle](t)(h.Cycle()).Energy, 0, "kWh", 1e-9)
}

// Energy grows with gravity in proportion; so does nothing else on a level road
// that power does not limit.
func TestGravity(t *testing.T) {
	h := dump()
	h.Gravity = of(1.625, "m/s²")
	moon, earth := must[Cycle](t)(h.Cycle()), must[Cycle](t)(dump().Cycle())
	near(t, "ratio", moon.Energy.Div(earth.Energy), 0.1625, "1", 1e-9)
	near(t, "time", moon.Time.Div(earth.Time), 1, "1", 1e-9)
}

func journey() Journey {
	return Journey{
		Ore: of(10000, "t"), Rate: of(20, "t/h"), Rejected: of(70, "%"), ByProduct: of(10, "%"),
		Haul: dump(), Vehicles: 2, Standing: of(2, "kWh/t"), Travelling: of(2.3, "kWh/t"),
		Plant: of(60, "t"), Rolling: of(15, "%"), Step: of(100, "m"), Worked: of(500, "t"), SetUp: of(6, "h"), Crawl: of(0.2, "m/s"),
	}
}

func TestJourneyByHand(t *testing.T) {
	w := must[Ways](t)(journey().At(of(2, "km")))
	per := (15e3 + 6e3) * 2000 / 0.8 / 3.6e6 / 30 // kWh/t
	near(t, "standing", w.Standing.PerTonne, 2+per, "kWh/t", 1e-9)
	moving := 19 * 60e3 * 10 * 0.15 * 100 / 3.6e6 // kWh
	near(t, "moving", w.Travelling.Moving, moving/1000, "MWh", 1e-9)
	near(t, "travelling", w.Travelling.PerTonne, 2.3+0.4*per+moving/10000, "kWh/t", 1e-9)
	near(t, "time", w.Travelling.Time, 500.0/24+19*(6.0/24+500.0/86400), "d", 1e-9)
	even := must[quantity.Quantity](t)(journey().BreakEven(of(50, "km")))
	near(t, "break-even", even, 2*(0.3+moving/10000)/(0.6*per), "km", 1e-9)
	both := must[Ways](t)(journey().At(even))
	near(t, "equal there", both.Standing.Energy.Sub(both.Travelling.Energy), 0, "MWh", 1e-9)
	share := must[quantity.Quantity](t)(journey().BreakEvenShare(even))
	near(t, "the share that breaks even there", share, 70, "%", 1e-6)
	if text := w.String(); !strings.Contains(text, "travels") {
		t.Errorf("shown as\n%s", text)
	}
}

// The standing plant falls behind where its vehicles no longer keep up; by hand:
// 10000/30 rounds of 4 min and 200 s for each km, over two vehicles, as long as the
// travelling plant takes.
func TestBreakEvenTime(t *testing.T) {
	travelling := 500*3600.0 + 19*(6*3600+500)
	km := (travelling*2/(10000.0/30) - 240) / 200
	near(t, "break-even of time", must[quantity.Quantity](t)(journey().BreakEvenTime(of(100, "km"))), km, "km", 1e-9)
}

func TestHaulingLimitsTime(t *testing.T) {
	w := must[Ways](t)(journey().At(of(80, "km")))
	seconds := 2 * 80000 / 10.0
	near(t, "time", w.Standing.Time, 10000.0/30*(seconds+240)/2/86400, "d", 1e-9)
}

func TestUncertainJourney(t *testing.T) {
	if err := quantity.SetSamples(500); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = quantity.SetSamples(quantity.DefaultSamples) }()
	j := journey()
	j.Rejected = must[quantity.Quantity](t)(quantity.Uniform(of(60, "%"), of(80, "%"))).Named("rejected")
	j.Haul.Legs[0].Rolling = must[quantity.Quantity](t)(quantity.Uniform(of(2, "%"), of(4, "%"))).Named("rolling")
	even := must[quantity.Quantity](t)(j.BreakEven(of(80, "km")))
	if !even.IsUncertain() || len(even.Influences()) != 2 {
		t.Errorf("break-even %v, %v", even, even.Influences())
	}
	if _, err := j.Figure(of(10, "km")); err != nil {
		t.Error(err)
	}
	ways := must[Ways](t)(j.At(of(2, "km")))
	if ways.Standing.Hauled.IsUncertain() || ways.Travelling.Moves.IsUncertain() || !ways.Travelling.Hauled.IsUncertain() {
		t.Errorf("what nothing uncertain reaches has a spread:\n%v", ways)
	}
}

func TestFigures(t *testing.T) {
	f, err := journey().Figure(of(10, "km"))
	if err != nil || !strings.Contains(string(f.SVG()), "break-even") {
		t.Errorf("figure without break-even, %v", err)
	}
	if f, err = journey().TimeFigure(of(10, "km")); err != nil || !strings.Contains(f.String(), "time") {
		t.Errorf("figure %v, %v", f, err)
	}
}

func TestRailsPay(t *testing.T) {
	mass := must[quantity.Quantity](t)(RailsPay(of(500, "MWh/km"), of(0.2, "kWh/(t·km)"), of(0.05, "kWh/(t·km)")))
	near(t, "tonnage", mass, 500e3/0.15, "t", 1e-9)
	mass = must[quantity.Quantity](t)(RailsPay(of(1e6, "USD/km"), of(0.2, "USD/(t·km)"), of(0.1, "USD/(t·km)")))
	near(t, "tonnage by money", mass, 1e7, "t", 1e-9)
}

// Digging: cohesion alone knows no gravity, friction alone grows with it; deeper
// cuts take more for each tonne where weight counts, and not where cohesion does.
func TestDig(t *testing.T) {
	blade := Blade{Width: of(1, "m"), Depth: of(0.2, "m"), Rake: of(50, "°"), Friction: of(20, "°")}
	sand := Soil{Density: of(1700, "kg/m³"), Friction: of(35, "°")}
	clay := Soil{Density: of(1700, "kg/m³"), Cohesion: of(20, "kPa"), Friction: of(0, "°")}
	earth, moon := of(9.81, "m/s²"), of(1.625, "m/s²")
	near(t, "sand", must[Cut](t)(Dig(sand, blade, moon)).Draft.Div(must[Cut](t)(Dig(sand, blade, earth)).Draft), 1.625/9.81, "1", 1e-9)
	ratio := must[Cut](t)(Dig(clay, blade, moon)).Draft.Div(must[Cut](t)(Dig(clay, blade, earth)).Draft).SI()
	if ratio < 0.85 || ratio >= 1 {
		t.Errorf("clay on the Moon takes %g of what it does on the Earth", ratio)
	}
	deep := blade
	deep.Depth = of(0.4, "m")
	near(t, "deeper in sand", must[Cut](t)(Dig(sand, deep, earth)).Energy.Div(must[Cut](t)(Dig(sand, blade, earth)).Energy), 2, "1", 1e-9)
	none := of(1e-9, "m/s²")
	near(t, "deeper in clay", must[Cut](t)(Dig(clay, deep, none)).Energy.Div(must[Cut](t)(Dig(clay, blade, none)).Energy), 1, "1", 1e-6)
}

func TestSurfaces(t *testing.T) {
	if s := must[Surface](t)(FindSurface("rail")); s.Usual.SI() != 0.004 {
		t.Errorf("%v", s)
	}
	for _, s := range surfaces {
		if !(s.Least.SI() <= s.Usual.SI() && s.Usual.SI() <= s.Most.SI()) {
			t.Errorf("%s: %v, %v, %v", s.Name, s.Least, s.Usual, s.Most)
		}
	}
	if Surfaces().Rows() < 5 {
		t.Error("few surfaces")
	}
}

func TestRefused(t *testing.T) {
	bad := func(change func(h *Haul)) func() error {
		return func() error {
			h := dump()
			change(&h)
			_, err := h.Cycle()
			return err
		}
	}
	badJourney := func(change func(j *Journey)) func() error {
		return func() error {
			j := journey()
			change(&j)
			_, err := j.At(of(1, "km"))
			return err
		}
	}
	metre := of(1, "m")
	for want, call := range map[string]func() error{
		"at least one Leg":     bad(func(h *Haul) { h.Legs = nil }),
		"leg 1: haulage: Dist": bad(func(h *Haul) { h.Legs[0].Distance = of(0, "m") }),
		"Payload":              bad(func(h *Haul) { h.Vehicle.Payload = metre }),
		"less than a walk":     bad(func(h *Haul) { h.Vehicle.Power = of(100, "W") }),
		"grade is":             bad(func(h *Haul) { h.Legs[0].Grade = quantity.Number(2) }),
		"Efficiency":           bad(func(h *Haul) { h.Vehicle.Efficiency = quantity.Number(1.2) }),
		"allowed: above 0":     bad(func(h *Haul) { h.Gravity = of(-1, "m/s²") }),
		"more than is reject":  badJourney(func(j *Journey) { j.ByProduct = of(90, "%") }),
		"Vehicles":             badJourney(func(j *Journey) { j.Vehicles = 0 }),
		"Worked":               badJourney(func(j *Journey) { j.Worked = metre }),
		"travels takes less": func() error {
			j := journey()
			j.Travelling = of(1, "kWh/t")
			_, err := j.BreakEven(of(50, "km"))
			return err
		},
		"stands takes less": func() error { j := journey(); _, err := j.BreakEven(of(0.1, "km")); return err },
		"never pay": func() error {
			_, err := RailsPay(of(1, "MWh/km"), of(1, "kWh/(t·km)"), of(2, "kWh/(t·km)"))
			return err
		},
		"is no mass":         func() error { _, err := RailsPay(of(1, "MWh"), of(3, "kWh/(t·km)"), of(2, "kWh/(t·km)")); return err },
		"cannot be compared": func() error { _, err := RailsPay(of(1, "MWh"), of(3, "kWh/t"), of(2, "m")); return err },
		"names 2 surfaces":   func() error { _, err := FindSurface("dirt"); return err },
		"rake": func() error {
			_, err := Dig(Soil{Density: of(1, "t/m³"), Friction: of(30, "°")}, Blade{Width: metre, Depth: metre, Rake: of(5, "°")}, quantity.Quantity{})
			return err
		},
		"Length of the belt": func() error { _, err := (Conveyor{Length: metre, Speed: of(1, "m/s")}).Pull(of(1, "t/h")); return err },
		"loaders load":       func() error { _, err := must[Cycle](t)(dump().Cycle()).Fleet(of(1, "t/h"), of(80, "%"), 0); return err },
		"sinking":            func() error { _, err := Sinking(of(1, "km")); return err },
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

func BenchmarkJourney(b *testing.B) {
	j := journey()
	for b.Loop() {
		if _, err := j.BreakEven(of(50, "km")); err != nil {
			b.Fatal(err)
		}
	}
}
