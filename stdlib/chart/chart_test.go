package chart

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cobber/stdlib/partition"
	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func of(unit string, values ...float64) []quantity.Quantity {
	out := make([]quantity.Quantity, len(values))
	for i, x := range values {
		out[i] = quantity.Of(x, unit)
	}
	return out
}

func must[T any](value T, err error) func(t *testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
}

func normal(mean, deviation float64, unit, name string) quantity.Quantity {
	return quantity.Must(quantity.Normal(quantity.Of(mean, unit), quantity.Of(deviation, unit))).Named(name)
}

// sand is an invented distribution with an assay.
func sand(t *testing.T) size.Distribution {
	d := must(size.New(of("µm", 500, 355, 250, 180, 125, 90, 63), of("g", 0, 6, 22, 48, 61, 38, 17, 8)))(t)
	return must(d.WithAssay("Sn", append([]quantity.Quantity{quantity.Of(math.NaN(), "%")}, of("%", 0.12, 0.31, 0.62, 0.95, 1.4, 1.1, 0.5)...)))(t)
}

// charts is one of each chart, of invented data.
func charts(t *testing.T) map[string]*plot.Figure {
	quantity.Seed(7)
	d := sand(t)
	fit := must(size.FitRosinRammler(d))(t).Model()
	curve := must(partition.New(of("g/cm3", 1.3, 1.4, 1.5, 1.6, 1.7, 1.8), of("%", 3, 9, 31, 71, 92, 98)))(t)
	fitted := must(partition.Fit(curve, partition.Gaussian, false))(t)
	coal := must(partition.NewWashability(of("g/cm3", 1.3, 1.4, 1.5, 1.6, 1.8), of("%", 38, 24, 11, 7, 6, 14), "ash", of("%", 4, 9, 17, 27, 40, 71)))(t)
	feed, grade := normal(120, 4, "t/h", "feed"), normal(1.9, 0.12, "%", "grade of the feed")
	metal := feed.Mul(grade).Mul(normal(0.78, 0.03, "1", "recovery"))
	out := map[string]*plot.Figure{}
	add := func(name string, f *plot.Figure, err error) {
		t.Helper()
		out[name] = must(f, err)(t)
	}
	f, err := SizeDistributions("An invented sand", plot.Linear, SizeCurve{Name: "sand", Measured: d, Fitted: fit, Percent: 80})
	add("sizes", f, err)
	f, err = SizeDistributions("The same, Rosin–Rammler (invented)", plot.RosinRammler, SizeCurve{Name: "sand", Measured: d, Fitted: fit, Percent: 80})
	add("rosin-rammler", f, err)
	f, err = AssayBySize("Tin by size (invented)", d, "Sn")
	add("assay", f, err)
	curves := []GradeCurve{{"bench", of("%", 42, 61, 74, 83, 88), of("%", 58, 49, 37, 25, 14)}, {"plant", of("%", 76), of("%", 31)}}
	f, err = GradeRecovery("Invented tests on tin", "Sn", quantity.Of(1.1, "%"), quantity.Of(78.8, "%"), EqualEfficiency, curves...)
	add("grade-recovery", f, err)
	f, err = GradeRecovery("Invented tests on tin", "Sn", quantity.Of(1.1, "%"), quantity.Quantity{}, EqualYield, curves...)
	add("equal-yield", f, err)
	f, err = Partition("An invented bath", curve, fitted.Model)
	add("partition", f, err)
	f, err = Washability("An invented coal", "ash", coal, of("g/cm3", 1.3, 1.4, 1.5, 1.6, 1.8))
	add("washability", f, err)
	f, err = Waterfall("Tin through an invented plant", "tin", Entry{"feed", quantity.Of(132, "kg/h")},
		[]Entry{{"slimes", quantity.Of(9.5, "kg/h")}, {"rougher tailing", quantity.Of(14.2, "kg/h")}, {"cleaner tailing", quantity.Of(6.1, "kg/h")}}, Entry{"concentrate", quantity.Of(98, "kg/h")})
	add("waterfall", f, err)
	f, err = Ledger("Power of an invented plant", "power", Entry{"crushing", quantity.Of(75, "kW")}, Entry{"milling", quantity.Of(412, "kW")}, Entry{"magnets", quantity.Of(38, "kW")}, Entry{"pumping", quantity.Of(0.054, "MW")}, Entry{"drying", quantity.Of(140, "kW")})
	add("ledger", f, err)
	f, err = BreakEven("Two invented ways to haul", plot.Axis{Name: "distance"}, plot.Axis{Name: "cost per tonne", Zero: true},
		Alternative{"trucks", of("km", 0, 5, 10), of("USD/t", 0.4, 1.65, 2.9)}, Alternative{"belt", of("km", 0, 5, 10), of("USD/t", 1.1, 1.7, 2.3)})
	add("break-even", f, err)
	f, err = Histogram("Tin recovered (invented)", "tin", metal.To("t/h"), quantity.Of(1.95, "t/h"))
	add("histogram", f, err)
	f, err = Influences("What the tin recovered hangs on (invented)", "tin", metal.To("t/h"))
	add("tornado", f, err)
	return out
}

// COBBER_PICTURES names a folder that pictures are kept in, to be looked at.
func TestChartsAreDrawn(t *testing.T) {
	folder := os.Getenv("COBBER_PICTURES")
	again := charts(t)
	for name, figure := range charts(t) {
		if string(figure.SVG()) != string(again[name].SVG()) {
			t.Errorf("%s: the same data give other bytes", name)
		}
		if !strings.Contains(figure.String(), "nvented") {
			t.Errorf("%s: in words, without its title: %s", name, figure)
		}
		if folder != "" {
			if err := figure.Save(filepath.Join(folder, name+".png")); err != nil {
				t.Error(err)
			}
		}
	}
}
