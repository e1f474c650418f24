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

// By the formula, 63.2 % is finer than the size of Rosin and Rammler.
func ExampleRosinRammler() {
	model, err := size.RosinRammler(quantity.Of(100, "µm"), quantity.Number(1.2))
	if err != nil {
		fmt.Println(err)
		return
	}
	passing, err := model.Passing(quantity.Of(100, "µm"))
	d80, failed := model.D(80)
	fmt.Printf("%.3g, %.4g, %v, %v\n", passing.To("%"), d80, err, failed)
	// Output: 63.2 %, 148.7 µm, <nil>, <nil>
}

// A quarter of the top size, with the exponent 1/2: half passes.
func ExampleGatesGaudinSchuhmann() {
	model, err := size.GatesGaudinSchuhmann(quantity.Of(400, "µm"), quantity.Number(0.5))
	if err != nil {
		fmt.Println(err)
		return
	}
	passing, err := model.Passing(quantity.Of(100, "µm"))
	fmt.Println(passing.To("%"), err)
	// Output: 50 % <nil>
}

// 84.1 % of a log-normal distribution is below its median times its deviation.
func ExampleLogNormal() {
	model, err := size.LogNormal(quantity.Of(50, "µm"), quantity.Number(2))
	if err != nil {
		fmt.Println(err)
		return
	}
	passing, err := model.Passing(quantity.Of(100, "µm"))
	fmt.Printf("%.3g %v\n", passing.To("%"), err)
	// Output: 84.1 % <nil>
}

// Half of Swebrec's distribution passes its median and all of it the top size.
func ExampleSwebrec() {
	model, err := size.Swebrec(quantity.Of(1, "m"), quantity.Of(200, "mm"), quantity.Number(2))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, percent := range []float64{20, 50, 80} {
		d, err := model.D(percent)
		fmt.Printf("%.3g %v\n", d.To("mm"), err)
	}
	// Output:
	// 40 mm <nil>
	// 200 mm <nil>
	// 447 mm <nil>
}

// Copper by class, and the grade of the whole.
func ExampleDistribution_WithAssay() {
	d, err := size.New(quantities("µm", 150, 75), quantities("g", 20, 50, 30))
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err = d.WithAssay("Cu", quantities("%", 0.5, 1, 2))
	if err != nil {
		fmt.Println(err)
		return
	}
	grade, err := d.Grade("Cu")
	if err != nil {
		fmt.Println(err)
		return
	}
	metal, err := d.Metal("Cu")
	fmt.Println(d.Classes(), grade, metal, err)
	// Output: [+150 µm −150 +75 µm −75 µm] 1.2 % [8.333 % 41.67 % 50 %] <nil>
}

// A sample of 405 g that comes to 400 g on the sieves lost 1.2 %.
func ExampleDistribution_Loss() {
	lost, err := ground().Loss(quantity.Of(405, "g"))
	fmt.Printf("%.2g %v\n", lost.To("%"), err)
	fmt.Println(ground().CheckLoss(quantity.Of(405, "g"), quantity.Of(1, "%")))
	// Output:
	// 1.2 % <nil>
	// size: sieving lost 1.2 % of the mass (405 g before, 400 g after), more than the tolerance of 1 %; weigh again or sieve again
}

// Passing shares from a paper's figure, and what passes between its sieves.
func ExampleFromPassing() {
	d, err := size.FromPassing(quantities("mm", 20, 10, 5), quantities("%", 100, 60, 25))
	if err != nil {
		fmt.Println(err)
		return
	}
	passing, err := d.PassingAt(quantity.Of(10, "mm"))
	fmt.Println(d.Shares(), passing, err)
	// Output: [0 % 40 % 35 % 25 %] 60 % <nil>
}

// Counts under a microscope, invented: one grain in the coarser class weighs as much
// as eight of half its size.
func ExampleNewCounts() {
	counts, err := size.NewCounts(quantities("µm", 40, 20, 10), []float64{1, 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	byVolume, err := counts.ByVolume()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(byVolume.Shares())
	mean, err := counts.Mean(3, 2)
	fmt.Printf("Sauter mean %.3g, %v\n", mean, err)
	// Output:
	// [0 % 50 % 50 % 0 %]
	// Sauter mean 21.4 µm, <nil>
}
