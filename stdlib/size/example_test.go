package size_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// The sieve analysis of the examples is invented.

func quantities(unit string, values ...float64) []quantity.Quantity {
	var all []quantity.Quantity
	for _, x := range values {
		all = append(all, quantity.Of(x, unit))
	}
	return all
}

func ground() size.Distribution {
	d, err := size.New(quantities("µm", 300, 212, 150, 106, 75, 53, 38), quantities("g", 4, 21, 46, 71, 70, 55, 44, 89))
	if err != nil {
		panic(err)
	}
	return d
}

func ExampleDistribution_D() {
	d80, err := ground().D(80)
	fmt.Println(d80, err)
	linear, err := ground().By(size.Linear).D(80)
	fmt.Println(linear, err)
	_, err = ground().D(10)
	fmt.Println(err)
	// Output:
	// 143.5 µm <nil>
	// 144.4 µm <nil>
	// size: d10 lies below the finest sieve: 22.25 % passes 38 µm; a finer sieve is needed
}

func ExampleFitModels() {
	fits, err := size.FitModels(ground())
	fmt.Println(fits, err)
	fmt.Println(fits[0])
	// Output:
	// model                   parameters  scatter (%)      R²  AICc − least
	// ──────────────────────  ──────────  ───────────  ──────  ────────────
	// Rosin–Rammler                    2        0.444  0.9998          0.00
	// Swebrec                          3        0.423  0.9999         11.74
	// log-normal                       2        2.916  0.9922         26.34
	// Gates–Gaudin–Schuhmann           2        3.463  0.9889         28.75 <nil>
	// Rosin–Rammler, P = 1 − exp(−(x/x')^n), through 7 sieves
	// parameter                 value     standard error
	// ────────────────────────  ────────  ──────────────
	// size x' (63.2 % passing)  102.6 µm  0.48 µm
	// exponent n                1.4       0.014
	// scatter of passing        0.44 %
}

func ExampleDistribution_Resample() {
	d, err := ground().Resample(quantities("µm", 212, 100, 50))
	fmt.Println(d, err)
	// Output:
	// d50 = 76.73 µm, d80 = 153.8 µm (semi-logarithmic between sieves)
	// class         mass (g)  share (%)  passing (%)
	// ────────────  ────────  ─────────  ───────────
	// +212 µm           25.0       6.25        93.75
	// −212 +100 µm     128.8      32.20        61.55
	// −100 +50 µm      120.9      30.23        31.32
	// −50 µm           125.3      31.32            – <nil>
}

func ExampleFindSieve() {
	for _, label := range []string{"#200", "Tyler 65", "3/8 in"} {
		sieve, err := size.FindSieve(label)
		fmt.Println(sieve, err)
	}
	// Output:
	// 75 µm (#200) <nil>
	// 208 µm (Tyler 65 mesh) <nil>
	// 9.5 mm (3/8 in) <nil>
}
