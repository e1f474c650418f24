package quantity

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
)

func TestLists(t *testing.T) {
	lots := []Quantity{Of(12, "t"), Of(800, "kg"), Of(5.2, "t"), {}}
	for _, c := range []struct {
		name string
		got  Quantity
		want string
	}{
		{"mean", Mean(lots[:3]...), "6 t"},
		{"mean with nothing", Mean(lots...), "4.5 t"},
		{"mean of readings", Mean(Of(10, "°C"), Of(68, "°F")), "15 °C"},
		{"median", MedianOf(lots[:3]...), "5.2 t"},
		{"median of four", MedianOf(lots...), "3 t"},
		{"deviation", Deviation(Of(1, "t"), Of(3000, "kg")), "1.414 t"},
		{"deviation of readings", Deviation(Of(1, "°C"), Of(1, "°C")), "0 K"},
		{"greatest", Max(lots[0], lots[1:]...), "12 t"},
		{"first of the sorted", Sorted(lots)[0], "0"},
		{"third of the sorted", Sorted(lots)[2], "5.2 t"},
		{"cumulative", Cumulative(lots...)[2], "18 t"},
		{"mean of none", Mean(), "NaN"},
		{"median of none", MedianOf(), "NaN"},
		{"deviation of one", Deviation(Of(1, "t")), "NaN t"},
	} {
		if c.got.String() != c.want {
			t.Errorf("%s is %s, want %s", c.name, c.got, c.want)
		}
	}
	if lots[0].String() != "12 t" {
		t.Error("Sorted has moved what it was given")
	}
}

// gonum is the reference for what is computed from lists.
func TestListsAgreeWithGonum(t *testing.T) {
	x := []float64{3.2, 1.9, 8.4, 4.4, 4.1, 7.7, 2.8}
	lots, err := Slice("t/h", x...)
	if err != nil {
		t.Fatal(err)
	}
	weights := []float64{1, 2, 0, 4, 1, 3, 2}
	masses, err := Slice("kt", weights...)
	if err != nil {
		t.Fatal(err)
	}
	mean, err := WeightedMean(lots, masses)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "mean", Mean(lots...).Shown(), stat.Mean(x, nil), 1e-14)
	within(t, "deviation", Deviation(lots...).Shown(), stat.StdDev(x, nil), 1e-14)
	within(t, "weighted mean", mean.Shown(), stat.Mean(x, weights), 1e-14)
	back, err := Values("kg/h", lots...)
	if err != nil || back[2] != 8400 {
		t.Errorf("%v, %v", back, err)
	}
	// numpy.quantile of the same numbers, method "linear", numpy 2.4.6.
	for p, want := range map[float64]float64{0: 1.9, 0.1: 2.44, 0.35: 3.29, 0.5: 4.1, 0.9: 7.98, 1: 8.4} {
		q, err := QuantileOf(p, lots...)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "quantile", q.Shown(), want, 1e-12)
	}
}

func TestListsOfUncertain(t *testing.T) {
	Seed(1)
	a, b := Must(Normal(Of(40, "t"), Of(2, "t"))), Must(Normal(Of(44000, "kg"), Of(1000, "kg")))
	m := Mean(a, b)
	within(t, "mean", m.FirstOrder().Uncertainty.Shown(), math.Sqrt(5)/2, 1e-3)
	within(t, "deviation", Deviation(a, b).FirstOrder().Value.Shown(), 4/math.Sqrt2, 1e-3)
	within(t, "deviation's own", Deviation(a, b).FirstOrder().Uncertainty.Shown(), math.Sqrt(5)/math.Sqrt2, 2e-3)
	middle := MedianOf(a, b, Of(60, "t"))
	for i, s := range middle.Samples() {
		if s != math.Max(a.Samples()[i], b.Samples()[i]/1000) && s < 60 {
			t.Fatalf("sample %d of the median is %v of %v and %v", i, s, a.Samples()[i], b.Samples()[i])
		}
		if i > 20 {
			break
		}
	}
	w, err := WeightedMean([]Quantity{a, b}, []Quantity{Number(1), Number(3)})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "weighted", w.FirstOrder().Uncertainty.Shown(), math.Hypot(2*0.25, 0.75), 1e-3)
}

func TestListsRefuse(t *testing.T) {
	for _, c := range []struct {
		values, weights []Quantity
		want            string
	}{
		{nil, nil, "0 values"},
		{[]Quantity{Number(1)}, nil, "1 values and 0 weights"},
		{[]Quantity{Number(1)}, []Quantity{Of(-1, "t")}, "weight 1 is -1 t"},
		{[]Quantity{Number(1)}, []Quantity{Of(0, "t")}, "add to 0 t"},
		{[]Quantity{Number(1), Of(1, "m")}, []Quantity{Of(1, "t"), Of(1, "t")}, "do not measure the same"},
		{[]Quantity{Number(1), Number(1)}, []Quantity{Of(1, "t"), Of(1, "m")}, "do not measure the same"},
		{[]Quantity{Of(5, "°C")}, []Quantity{Of(1, "t")}, "temperature scale"},
	} {
		if _, err := WeightedMean(c.values, c.weights); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	if _, err := QuantileOf(2, Number(1)); err == nil {
		t.Error("a quantile of 2 was taken")
	}
	if _, err := QuantileOf(0.5); err == nil {
		t.Error("a quantile of nothing was taken")
	}
	if _, err := Slice("tph", 1); err == nil {
		t.Error("a slice in tph was made")
	}
	if _, err := Values("m", Of(1, "m"), Of(1, "t")); err == nil || !strings.Contains(err.Error(), "value 2") {
		t.Errorf("values of a tonne in metres: %v", err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a mean of metres and tonnes was taken")
		}
	}()
	MedianOf(Of(1, "t"), Of(1, "m"))
}
