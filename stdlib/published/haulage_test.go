package published

import (
	"math"
	"testing"

	"cobber/stdlib/haulage"
	"cobber/stdlib/quantity"
)

var noQuantity quantity.Quantity

// Earthmoving course sheets (seen at second hand; rules as in S.W. Nunnally,
// Construction Methods and Management): a truck of 86 short tons on a surface of
// 120 lb/ton needs 10 320 lb on the level, 13 760 lb up 2 %, 1 720 lb down 5 %.
// The sheets take the slope for its sine.
func TestResistanceOfRoads(t *testing.T) {
	for grade, pounds := range map[float64]float64{0: 10320, 2: 13760, -5: 1720} {
		f, err := haulage.Pull(quantity.Of(86, "st"), quantity.Number(120.0/2000), quantity.Of(grade, "%"), noQuantity)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "pull", in(t, f, "lbf"), pounds, 1.3e-3)
	}
	// 310 hp, 80 %, 15 mph: 6 200 lb, on 90 000 lb 137.8 lb/ton at most.
	f, err := haulage.Rimpull(quantity.Of(310, "hp_mech"), quantity.Number(0.8), quantity.Of(15, "mi/h"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rimpull", in(t, f, "lbf"), 6200, 1e-4)
	near(t, "resistance", in(t, f, "lbf")/45, 137.8, 1e-3)
	// An examination item: a trailer of 12 t up 2 % pulls its rope with 720 kg, so
	// that rolling takes 40 kg/t.
	f, err = haulage.Pull(quantity.Of(12, "t"), quantity.Of(40, "kg/t"), quantity.Of(2, "%"), noQuantity)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rope", in(t, f, "N")/9.80665, 720, 3e-4)
	// 40 lb/ton and 30 lb/ton for each inch.
	for inches, pounds := range map[float64]float64{0: 40, 1: 70, 4: 160} {
		r, err := haulage.Sinking(quantity.Of(inches, "in"))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "sinking", 2000*in(t, r, "1"), pounds, 1e-9)
	}
}

// B.L. Theraja, A Textbook of Electrical Technology, vol. 3, ch. 43 (transcribed in
// a textbook companion): gravity there is 9.8 m/s², 1 in 80 is taken as 1.25 %.
func TestTrains(t *testing.T) {
	g, pct := quantity.Of(9.8, "m/s²"), func(x float64) quantity.Quantity { return quantity.Of(x, "%") }
	rolling := func(newtons float64) quantity.Quantity { return quantity.Number(newtons / 9800) }
	effort := func(tonnes, kmhs, turning, newtons, grade float64) float64 {
		t.Helper()
		f, err := haulage.Effort(quantity.Of(tonnes, "t"), quantity.Of(kmhs/3.6, "m/s²"), pct(turning), rolling(newtons), pct(grade), g)
		if err != nil {
			t.Fatal(err)
		}
		return in(t, f, "N")
	}
	grip := func(tonnes, friction float64) float64 {
		t.Helper()
		f, err := haulage.Grip(quantity.Of(tonnes, "t"), quantity.Number(friction), noQuantity, g)
		if err != nil {
			t.Fatal(err)
		}
		return in(t, f, "N")
	}
	// Example 43.6: 250 t to 42 km/h in 20 s up 1 in 80, 40 N/t, 10 %; gears 3.5, 92 %,
	// wheels of 0.92 m, four motors: 7 181 N·m each.
	force := effort(250, 42.0/20, 10, 40, 1.25)
	near(t, "torque of a motor", force*0.92/2/3.5/0.92/4, 7181, 2e-4)
	// Example 43.8: 500 t up 2 %, 1 km/h/s, 40 N/t, 10 %, friction 0.25: the weight of
	// the locomotive, which is hauled too, is 142 t.
	locomotive := effort(500, 1, 10, 40, 2)
	per := grip(1, 0.25) - effort(1, 1, 10, 40, 2)
	near(t, "locomotive", locomotive/per, 142, 1.5e-3)
	// Example 43.9: a locomotive of 100 t just moves 500 t up 0.1 %, 45 N/t, 1 km/h/s
	// (10 % for turning masses); with one of 120 t more, 1 100 t trail.
	friction := effort(600, 1, 10, 45, 0.1) / grip(100, 1)
	near(t, "trailing", grip(220, friction)/(effort(600, 1, 10, 45, 0.1)/600)-220, 1100, 1e-6)
	// W.L. Webb, Economics of Railroad Construction, §120: kinetic energy of 93 000 lb
	// and 33 000 lb at 20 mph, with a pound of force at 32.16 ft/s² as he takes it.
	for pounds, footpounds := range map[float64]float64{93000: 1244340, 33000: 441540} {
		e, err := haulage.Starting(quantity.Of(pounds, "lb"), quantity.Of(0, "mi/h"), quantity.Of(20, "mi/h"), noQuantity)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "kinetic energy", in(t, e, "J")/(0.45359237*32.16*0.3048*0.3048), footpounds, 3e-4)
	}
}

// A design sheet of a conveyor (seen at second hand): 79.6 kg/m move, 38 m, C =
// 1.95 and f = 0.02 as the sheet has them: 1 157.7 N for the empty belt. Its C is
// its own; the table here has another for 38 m, so that the case compares the rest.
func TestConveyor(t *testing.T) {
	pull := func(length, moving, rate, rise float64) float64 {
		t.Helper()
		c := haulage.Conveyor{Length: quantity.Of(length, "m"), Moving: quantity.Of(moving, "kg/m"), Speed: quantity.Of(1, "m/s"),
			Rise: quantity.Of(rise, "m"), Gravity: quantity.Of(9.81, "m/s²")}
		f, err := c.Pull(quantity.Of(rate, "t/h"))
		if err != nil {
			t.Fatal(err)
		}
		return in(t, f, "N")
	}
	const inTable = 2.6 + (2.4-2.6)*(38-32)/(40-32.0)
	near(t, "empty belt", pull(38, 79.6, 0, 0)*1.95/inTable, 1157.7, 5e-4)
	// P = (C·f·L/367)·(3.6·m'·v + Q) + Q·H/367 in kW, t/h and m (a published table of
	// C with this formula, seen at second hand): 1/367 is g/3600.
	for _, length := range []float64{100, 250, 1000} {
		c := map[float64]float64{100: 1.8, 250: 1.38, 1000: 1.05}[length]
		want := c*0.02*length/367*(3.6*80+500) + 500*12.0/367
		near(t, "power", pull(length, 80, 500, 12)/1000, want, 2e-4)
	}
	// An examination item of mining practice: a wheel of 20 buckets of 0.5 m³, 5 rpm,
	// 80 % full, a belt of 1.2 m whose load fills 0.1·B²: 4.63 m/s.
	q, err := haulage.Bucketwheel(20, quantity.Of(0.5, "m³"), quantity.Of(80, "%"), quantity.Of(5, "rpm"))
	if err != nil {
		t.Fatal(err)
	}
	v, err := haulage.BeltSpeed(q, quantity.Of(1.2, "m"), quantity.Number(0.1))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "speed of the belt", in(t, v, "m/s"), 4.63, 1e-3)
}

// The wedge before an upright smooth blade is Rankine's passive earth pressure, P =
// Kp·γ·d²/2 + 2·c·d·√Kp + q·d·Kp with Kp = tan²(45° + φ/2), at 45° − φ/2; before an
// upright rough blade Coulomb's, Kp = cos²φ/(cos δ·(1 − √(sin(φ+δ)·sin φ/cos δ))²),
// both as in any text on soil mechanics.
func TestEarthPressure(t *testing.T) {
	for _, phi := range []float64{20, 30, 40} {
		soil := haulage.Soil{Density: quantity.Of(1800, "kg/m³"), Cohesion: quantity.Of(5, "kPa"), Friction: quantity.Of(phi, "°")}
		blade := haulage.Blade{Width: quantity.Of(2, "m"), Depth: quantity.Of(0.5, "m"), Rake: quantity.Of(90, "°"), Friction: quantity.Of(0, "°"), Surcharge: quantity.Of(3, "kPa")}
		cut, err := haulage.Dig(soil, blade, quantity.Of(10, "m/s²"))
		if err != nil {
			t.Fatal(err)
		}
		kp := math.Pow(math.Tan((45+phi/2)*math.Pi/180), 2)
		want := 2 * (kp*18*0.25/2 + 2*5*0.5*math.Sqrt(kp) + 3*0.5*kp)
		near(t, "Rankine", in(t, cut.Draft, "kN"), want, 1e-9)
		near(t, "angle", in(t, cut.Angle, "°"), 45-phi/2, 1e-4)

		soil.Cohesion, blade.Surcharge = noQuantity, noQuantity
		delta := phi / 2
		blade.Friction = quantity.Of(delta, "°")
		if cut, err = haulage.Dig(soil, blade, quantity.Of(10, "m/s²")); err != nil {
			t.Fatal(err)
		}
		rad := func(x float64) float64 { return x * math.Pi / 180 }
		root := 1 - math.Sqrt(math.Sin(rad(phi+delta))*math.Sin(rad(phi))/math.Cos(rad(delta)))
		coulomb := math.Pow(math.Cos(rad(phi)), 2) / (math.Cos(rad(delta)) * root * root)
		near(t, "Coulomb", math.Hypot(in(t, cut.Draft, "kN"), in(t, cut.Down, "kN")), coulomb*2*18*0.25/2, 1e-6)
	}
}
