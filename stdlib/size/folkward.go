package size

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// FolkWard is the four graphical measures of Folk and Ward, by which
// sedimentologists describe sands and soils, in units of φ = −log₂(size in mm).
type FolkWard struct {
	Mean     quantity.Quantity // graphic mean, φ; a plain number
	MeanSize quantity.Quantity // the same as a length
	Sorting  quantity.Quantity // inclusive graphic standard deviation, φ
	Skewness quantity.Quantity // inclusive graphic skewness, −1 to 1; above 0 where there is a tail of fines
	Kurtosis quantity.Quantity // graphic kurtosis; 1 for a log-normal distribution
}

// FolkWard are the graphical measures of Folk and Ward,
//
//	mean      (φ16 + φ50 + φ84)/3
//	sorting   (φ84 − φ16)/4 + (φ95 − φ5)/6.6
//	skewness  (φ16 + φ84 − 2φ50)/(2(φ84 − φ16)) + (φ5 + φ95 − 2φ50)/(2(φ95 − φ5))
//	kurtosis  (φ95 − φ5)/(2.44(φ75 − φ25))
//
// where a share of the mass of p % is coarser than φp.
//
// Units: plain numbers, in φ; MeanSize is a length in the unit of the coarsest
// sieve.
//
// Range: d5 and d95 lie between the sieves used.
//
// Errors: as D; percentiles that coincide.
//
// Source: R.L. Folk, W.C. Ward, J. Sediment. Petrol. 27 (1957) 3, as U.S.
// Geological Survey reports print it.
func (d Distribution) FolkWard() (FolkWard, error) {
	measures := []func(phi func(percent float64) float64) float64{
		func(phi func(float64) float64) float64 { return (phi(16) + phi(50) + phi(84)) / 3 },
		func(phi func(float64) float64) float64 { return (phi(84)-phi(16))/4 + (phi(95)-phi(5))/6.6 },
		func(phi func(float64) float64) float64 {
			return (phi(16)+phi(84)-2*phi(50))/(2*(phi(84)-phi(16))) + (phi(5)+phi(95)-2*phi(50))/(2*(phi(95)-phi(5)))
		},
		func(phi func(float64) float64) float64 { return (phi(95) - phi(5)) / (2.44 * (phi(75) - phi(25))) },
	}
	var out FolkWard
	for i, into := range []*quantity.Quantity{&out.Mean, &out.Sorting, &out.Skewness, &out.Kurtosis} {
		var err error
		if *into, err = d.through(func(d Distribution) (quantity.Quantity, error) { return d.graphical(measures[i]) }); err != nil {
			return FolkWard{}, err
		}
	}
	unit := d.openings[0]
	size, err := quantity.Through(func(phi []quantity.Quantity) (quantity.Quantity, error) {
		return metresIn(unit, math.Exp2(-phi[0].SI())/1000), nil
	}, out.Mean)
	out.MeanSize = size
	return out, err
}

// graphical is a measure from percentiles in φ.
func (d Distribution) graphical(measure func(phi func(percent float64) float64) float64) (quantity.Quantity, error) {
	var wrong error
	value := measure(func(percent float64) float64 {
		size, err := d.D(100 - percent) // percent is coarser
		if err != nil && wrong == nil {
			wrong = err
		}
		return -math.Log2(size.SI() * 1000)
	})
	if wrong == nil && (math.IsNaN(value) || math.IsInf(value, 0)) {
		wrong = fmt.Errorf("size: the percentiles of Folk and Ward coincide; more sieves are needed where the mass lies")
	}
	return quantity.Number(value), wrong
}

// Words is the verbal scale of Folk and Ward for sorting, skewness and kurtosis.
func (f FolkWard) Words() (sorting, skewness, kurtosis string) {
	scale := func(x float64, last string, steps ...any) string {
		for i := 0; i < len(steps); i += 2 {
			if x < steps[i].(float64) {
				return steps[i+1].(string)
			}
		}
		return last
	}
	sorting = scale(f.Sorting.SI(), "extremely poorly sorted", 0.35, "very well sorted", 0.5, "well sorted", 0.71, "moderately well sorted",
		1.0, "moderately sorted", 2.0, "poorly sorted", 4.0, "very poorly sorted")
	skewness = scale(f.Skewness.SI(), "strongly fine-skewed", -0.3, "strongly coarse-skewed", -0.1, "coarse-skewed", 0.1, "near-symmetrical", 0.3, "fine-skewed")
	kurtosis = scale(f.Kurtosis.SI(), "extremely leptokurtic", 0.67, "very platykurtic", 0.9, "platykurtic", 1.11, "mesokurtic", 1.5, "leptokurtic", 3.0, "very leptokurtic")
	return sorting, skewness, kurtosis
}

// Table is the measures with what they are called.
func (f FolkWard) Table() table.Table {
	sorting, skewness, kurtosis := f.Words()
	t, err := table.New(
		table.Texts("measure", []string{"graphic mean", "sorting", "skewness", "kurtosis"}),
		table.Texts("value", []string{brief(f.Mean) + " φ, " + brief(f.MeanSize), brief(f.Sorting) + " φ", brief(f.Skewness), brief(f.Kurtosis)}),
		table.Texts("in words", []string{"", sorting, skewness, kurtosis}))
	if err != nil {
		panic("size: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Graphical measures of Folk and Ward")
}

// String is Table as text.
func (f FolkWard) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f FolkWard) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f FolkWard) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f FolkWard) LaTeX() string { return f.Table().LaTeX() }
