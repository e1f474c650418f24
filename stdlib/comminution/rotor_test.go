package comminution

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

var rotor = Rotor{Diameter: quantity.Of(1, "m"), Speed: quantity.Of(1000, "rpm")}

func alpha(t *testing.T, a float64) Family {
	t.Helper()
	f, err := TruncatedRosinRammler(num(a))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestRotor(t *testing.T) {
	v, err := rotor.TipSpeed()
	near(t, "tip speed", value(t, v, err, "m/s"), 52.3599, 1e-6)
	n, err := Turning(rotor.Diameter, v)
	near(t, "turning", value(t, n, err, "rpm"), 1000, 1e-12)
	rim, err := rotor.RimStress(quantity.Of(7850, "kg/m³"), Rim)
	near(t, "ρv²", value(t, rim, err, "MPa"), 7850*52.3599*52.3599/1e6, 1e-5)
	back, err := LimitingSpeed(rim, quantity.Of(7850, "kg/m³"), Rim)
	near(t, "limiting speed", value(t, back, err, "m/s"), 52.3599, 1e-5)
	_, err = Rotor{rotor.Diameter, quantity.Of(16, "Hz")}.TipSpeed()
	refused(t, "hertz", err, "rpm")
}

// A faster rotor and more impacts give a finer product; the speed for a product gives
// that product.
func TestProductOfARotor(t *testing.T) {
	f := alpha(t, 1)
	last := math.Inf(1)
	for _, speed := range []float64{20, 30, 45, 60, 80} {
		r := Rotor{quantity.Of(1, "m"), quantity.Of(speed/math.Pi*60, "rpm")}
		p, err := r.ProductSize(Struck, medium, f, mm(20), num(1))
		x := value(t, p, err, "mm")
		if x >= last {
			t.Errorf("product of %v m/s is %v mm after %v", speed, x, last)
		}
		last = x
		v, err := SpeedFor(p, Struck, medium, f, mm(20), num(1))
		near(t, "speed", value(t, v, err, "m/s"), speed, 1e-6)
		thrice, err := r.ProductSize(Struck, medium, f, mm(20), num(3))
		if value(t, thrice, err, "mm") >= x {
			t.Error("more impacts give no finer product")
		}
	}
	_, err := SpeedFor(um(1), Struck, medium, f, mm(20), num(1))
	refused(t, "beyond A", err, "number of impacts")
}

// Impacts beyond one are followed on classes: just above one they give what one gives, to
// the width of a class, and shares rise with the opening.
func TestImpactsFollowedOnClasses(t *testing.T) {
	m, f := impact{most: 0.5, ease: 1 / 3600.0, at: 0.02}, family{exponent: 1}
	for _, e := range []float64{0.3, 1, 3} {
		one, more := newProduct(m, f, 0.02, e*3600, 1), newProduct(m, f, 0.02, e*3600, 1+1e-9)
		last := 1.0
		for _, n := range []float64{1.3, 2, 5, 10, 40, 300} {
			if x, y := one.after(n), more.after(n); math.Abs(x-y) > 0.03 || y > last {
				t.Errorf("finer than 1/%v: %v at once, %v on classes, %v before", n, x, y, last)
			}
			last = more.after(n)
		}
		near(t, "p80", more.p80(), one.p80(), 0.05)
	}
	share, err := rotor.Passing(Struck, medium, alpha(t, 1), mm(20), num(3), mm(25))
	near(t, "all is finer than what is coarser than all", value(t, share, err, "1"), 1, 1e-12)
}

// The product of one impact on particles of one size is the family itself.
func TestOneImpactIsTheFamily(t *testing.T) {
	f := alpha(t, 1.2)
	for _, e := range []float64{0.5, 2} {
		t10, err := medium.T10(mm(20), kwh(e))
		if err != nil {
			t.Fatal(err)
		}
		size := p80(impact{most: 0.5, ease: 1 / 3600.0}, family{exponent: 1.2}, 0.02, e*3600, 1)
		passing, err := f.Passing(t10, num(0.02/size))
		near(t, "passing at the size found", value(t, passing, err, "1"), 0.8, 1e-9)
	}
}

func TestTumbling(t *testing.T) {
	at := func(g float64) Tumbler {
		return Tumbler{Diameter: quantity.Of(4, "m"), Length: quantity.Of(5, "m"), Filling: percent(0.4), Speed: percent(0.72),
			Charge: quantity.Of(5.4, "t/m³"), Gravity: quantity.Of(g, "m/s²")}
	}
	p, err := at(9.80665).Power()
	earthly := value(t, p, err, "kW")
	p, err = at(9.80665 / 4).Power()
	near(t, "power at a quarter of gravity", value(t, p, err, "kW"), earthly/8, 1e-9)
	b, err := at(9.80665).BondPower(Balls)
	balls := 0.4 * math.Pi / 4 * 16 * 5 * 4.65 // t
	near(t, "Bond and the torque of the charge", value(t, b, err, "kW/t")*balls, earthly, 0.15)
	half := at(9.80665)
	half.Filling = percent(0.5)
	p, err = half.Power()
	w := 0.72 * math.Sqrt(2*9.80665/4)
	near(t, "half full", value(t, p, err, "kW"), w*5.4*9.80665*5*2/3*8*math.Sin(35*math.Pi/180), 1e-9)
	half.Filling = percent(0.6)
	_, err = half.Power()
	refused(t, "too full", err, "50 %")
}

func TestJaw(t *testing.T) {
	j := Jaw{Gape: mm(600), Set: mm(100), Width: mm(900), Throw: mm(20), Speed: quantity.Of(200, "rpm")}
	c, err := j.CriticalSpeed()
	near(t, "47·√(5/6/0.02)", value(t, c, err, "rpm"), 47*math.Sqrt(5/6.0/0.02), 1e-3)
	// At the critical speed both branches meet, and no speed gives more.
	most := 0.0
	for _, n := range []float64{100, 200, 303.2, 350, 500} {
		j.Speed = quantity.Of(n, "rpm")
		q, err := j.Volume()
		most = max(most, value(t, q, err, "m³/h"))
	}
	j.Speed = c
	q, err := j.Volume()
	near(t, "most at the critical speed", value(t, q, err, "m³/h"), most, 2e-3)
	j.Gravity = earth.Mul(num(0.25))
	slow, err := j.CriticalSpeed()
	near(t, "a quarter of gravity", value(t, slow, err, "rpm"), value(t, c, err, "rpm")/2, 1e-12)
}

func TestRolls(t *testing.T) {
	r := RollPair{Diameter: quantity.Of(1, "m"), Width: quantity.Of(0.4, "m"), Gap: mm(12.5), Speed: quantity.Of(60, "rpm")}
	q, err := r.Throughput(quantity.Of(2500, "kg/m³"), percent(0.12))
	near(t, "ribbon", value(t, q, err, "kg/s"), math.Pi*0.4*0.0125*2500*0.12, 1e-12)
}

func TestFlattening(t *testing.T) {
	m := Malleable{FlowStress: quantity.Of(300, "MPa"), Density: quantity.Of(7.8, "g/cm³")}
	e, err := m.Strain(quantity.Of(10, "kJ/kg"))
	near(t, "strain", value(t, e, err, "1"), 0.26, 1e-9)
	wide, thin, err := Flattened(mm(2), num(0.8))
	d, h := value(t, wide, err, "mm"), value(t, thin, err, "mm")
	near(t, "volume", d*d*h, 8, 1e-12)
	for _, test := range [][4]float64{{3, 2, 1, 2}, {5, 1, 1, 1}, {4, 4, 0.0001, 4 / math.Sqrt2}, {2, 2, 2, 2}} {
		a, err := PassingSize(mm(test[0]), mm(test[2]), mm(test[1]))
		near(t, "passing", value(t, a, err, "mm"), test[3], 1e-4)
	}
	g, err := PassingGrowth(num(1))
	near(t, "growth at 1", value(t, g, err, "1"), (math.Exp(0.5)+math.Exp(-1))/math.Sqrt2, 1e-12)
}

// Coarsening keeps mass and multiplies the mean logarithm of sizes by the factor.
func TestCoarsening(t *testing.T) {
	uppers := []float64{8, 4, 2, 1, 0.5, 0.25}
	flows := []float64{0, 0, 3, 2, 1, 4}
	for _, factor := range []float64{1, 1.1, 1.43, 2} {
		out, err := coarsen(uppers, flows, factor, 0)
		if err != nil {
			t.Fatal(err)
		}
		total := 0.0
		for _, x := range out {
			total += x
		}
		near(t, "mass", total, 10, 1e-12)
		if factor == 2 {
			for k, want := range []float64{0, 3, 2, 1, 2, 2} {
				near(t, "doubled", out[k], want, 1e-12)
			}
		}
	}
	_, err := coarsen(uppers, []float64{1, 0, 0, 0, 0, 0}, 1.2, 0)
	refused(t, "beyond the top", err, "coarser openings")
	// With a limit at 3: what is coarser stays, what would pass it ends there.
	out, err := coarsen(uppers, []float64{1, 2, 4, 0, 0, 0}, 2, 3)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{1, 2 + 4, 0, 0, 0, 0} {
		near(t, "limited", out[k], want, 1e-12)
	}
	out, err = coarsen(uppers, []float64{0, 0, 0, 4, 0, 0}, 2, 1.7)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{0, 0, 4, 0, 0, 0} {
		near(t, "limited within its class", out[k], want, 1e-12)
	}
}
