package published

import (
	"testing"

	"cobber/stdlib/kinetics"
	"cobber/stdlib/quantity"
)

// TestCertifiedFits: three of NIST's Statistical Reference Datasets for nonlinear
// regression, whose models are those of batch recovery: Misra1a and BoxBOD are
// b1·(1 − e^(−b2·x)), Misra1d b1·b2·x/(1 + b2·x), the second-order form with b2 =
// R∞·k. Data and certified values written from memory; they close on each other.
// Responses are divided by 1000 to be shares.
func TestCertifiedFits(t *testing.T) {
	misraX := []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760}
	misraY := []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}
	boxX, boxY := []float64{1, 2, 3, 5, 7, 10}, []float64{109, 149, 149, 191, 213, 224}
	for _, test := range []struct {
		name         string
		x, y         []float64
		form         kinetics.Form
		b1, b2       float64
		error1       float64
		error2       float64
		perUltimate  bool
		sumOfSquares float64
	}{
		{"Misra1a", misraX, misraY, kinetics.FirstOrder, 2.3894212918e2, 5.5015643181e-4, 2.7070075241, 7.2668688436e-6, false, 1.2455138894e-1},
		{"BoxBOD", boxX, boxY, kinetics.FirstOrder, 2.1380940889e2, 5.4723748542e-1, 1.2354515176e1, 1.0455993237e-1, false, 1.1680088766e3},
		{"Misra1d", misraX, misraY, kinetics.SecondOrder, 4.3736970754e2, 3.0227324449e-4, 3.6489174345, 2.9334354479e-6, true, 5.6419295283e-2},
	} {
		readings, err := kinetics.NewTest(quantities("min", test.x...), quantities("g/kg", test.y...))
		if err != nil {
			t.Fatal(err)
		}
		f, err := kinetics.Fit(readings, test.form)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		near(t, test.name+": b1", 1000*in(t, f.Model.Ultimate(), "1"), test.b1, 1e-6)
		near(t, test.name+": error of b1", 1000*in(t, f.UltimateDeviation, "1"), test.error1, 1e-4)
		rate := in(t, f.Model.Rate(), "1/min")
		if test.perUltimate {
			rate *= in(t, f.Model.Ultimate(), "1")
		} else {
			near(t, test.name+": error of b2", in(t, f.RateDeviation, "1/min"), test.error2, 1e-4)
		}
		near(t, test.name+": b2", rate, test.b2, 1e-6)
		sum := 0.0
		for _, r := range f.Residuals {
			sum += 1e6 * in(t, r, "1") * in(t, r, "1")
		}
		near(t, test.name+": sum of squares", sum, test.sumOfSquares, 1e-6)
	}
}

// TestOneFlotationByFourModels: four models fitted to one test (XXXI IMPC, 2024,
// proceedings p. 2756, figure 9a): ultimate recoveries and rates per minute. All
// describe the same readings, so they agree within a few points of recovery.
// The second-order rate is printed for recoveries in per cent.
func TestOneFlotationByFourModels(t *testing.T) {
	for _, test := range []struct {
		form           kinetics.Form
		ultimate, rate float64
	}{
		{kinetics.FirstOrder, 86.34, 1.04970}, {kinetics.Klimpel, 97.64, 2.03425},
		{kinetics.SecondOrder, 99.99, 1.335}, {kinetics.SecondOrderKlimpel, 99.99, 3.83708},
	} {
		m, err := kinetics.NewModel(test.form, pc(test.ultimate), quantity.Of(test.rate, "1/min"))
		if err != nil {
			t.Fatal(err)
		}
		for minutes, recovery := range map[float64]float64{1: 57, 5: 86.3} { // the mean of the four
			r, err := m.Recovery(quantity.Of(minutes, "min"))
			if err != nil {
				t.Fatal(err)
			}
			within(t, test.form.String(), in(t, r, "%"), recovery, 2.1)
		}
	}
}

// TestTanks: H.S. Fogler, Elements of Chemical Reaction Engineering, example 4-2
// (results from memory): k = 0.311 /min, 15.34 ft³/min; two tanks of 800 gal in
// line convert 0.90, side by side 0.81, and 0.80 in one tank asks for 1480 gal.
func TestTanks(t *testing.T) {
	m, err := kinetics.NewModel(kinetics.FirstOrder, pc(100), quantity.Of(0.311, "1/min"))
	if err != nil {
		t.Fatal(err)
	}
	tank, flow := quantity.Of(800, "gal_US"), quantity.Of(15.34, "ft³/min")
	for cells, published := range map[int]float64{1: 0.81, 2: 0.90} {
		each := flow.Mul(quantity.Number(float64(cells) / 2)) // side by side each takes half
		tau, err := kinetics.CellTime(tank, pc(0), each)
		if err != nil {
			t.Fatal(err)
		}
		r, err := m.InBank(cells, tau)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "conversion", in(t, r, "1"), published, 5e-3)
	}
	tau, err := m.BankTime(1, pc(80))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume, gal", in(t, flow.Mul(tau), "gal_US"), 1480, 5e-3)
}

// TestTracer: O. Levenspiel, Chemical Reaction Engineering, 3rd ed., example 11.1:
// concentrations 0, 3, 5, 5, 4, 2, 1, 0 every 5 min have a mean of 15 min; example
// 13.1 takes from them σ² = 47.5 min² (from memory).
func TestTracer(t *testing.T) {
	r, err := kinetics.Tracer(quantities("min", 0, 5, 10, 15, 20, 25, 30, 35), quantities("g/L", 0, 3, 5, 5, 4, 2, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean, min", in(t, r.Mean, "min"), 15, 1e-12)
	near(t, "variance, min²", in(t, r.Variance, "min²"), 47.5, 1e-12)
}
