package size

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func of(unit string, values ...float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Of(x, unit)
	}
	return quantities
}

func value(t *testing.T, q quantity.Quantity, unit string) float64 {
	t.Helper()
	x, err := q.Value(unit)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func build(t *testing.T, openings, masses []quantity.Quantity) Distribution {
	t.Helper()
	d, err := New(openings, masses)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// sand is example 2.1 of B.M. Das, Principles of Geotechnical Engineering, as
// masses of 100 g.
func sand(t *testing.T) Distribution {
	return build(t, of("mm", 4.75, 2, 0.85, 0.425, 0.25, 0.18, 0.15, 0.075),
		of("g", 0, 5.5, 8.2, 12.2, 19.2, 16.8, 28.8, 7.6, 1.7))
}

// The wanted sizes were interpolated in the published passing figures with
// numpy.interp, in the coordinates each way is straight in.
func TestInterpolationsAgainstNumpy(t *testing.T) {
	tests := []struct {
		way                     Interpolation
		d10, d30, d50, d60, d80 float64
	}{
		{Linear, .1507, .1716, .2296, .2965, .6305},
		{SemiLog, .1507, .1710, .2272, .2878, .5942},
		{LogLog, .1514, .1745, .2298, .2925, .6021},
	}
	for _, test := range tests {
		d := sand(t).By(test.way)
		for percent, want := range map[float64]float64{10: test.d10, 30: test.d30, 50: test.d50, 60: test.d60, 80: test.d80} {
			got, err := d.D(percent)
			if err != nil {
				t.Error(err)
				continue
			}
			if mm := value(t, got, "mm"); math.Abs(mm-want) > 0.6e-4 {
				t.Errorf("%v: d%g = %.5f mm, want %.4f", test.way, percent, mm, want)
			}
			back, err := d.PassingAt(got)
			if err != nil {
				t.Error(err)
				continue
			}
			if p := value(t, back, "%"); math.Abs(p-percent) > 1e-9 {
				t.Errorf("%v: %v %% passes d%g", test.way, p, percent)
			}
		}
	}
}

func TestSizesAtTheSievesThemselves(t *testing.T) {
	for _, way := range []Interpolation{SemiLog, Linear, LogLog, Smooth} {
		d := sand(t).By(way)
		for i, opening := range d.Openings() {
			percent := value(t, d.Passing()[i], "%")
			got, err := d.D(percent)
			if err != nil {
				t.Errorf("%v: d%g: %v", way, percent, err)
				continue
			}
			if a, b := value(t, got, "mm"), value(t, opening, "mm"); math.Abs(a-b) > 1e-9*b {
				t.Errorf("%v: d%g = %v, but the sieve is %v", way, percent, got, opening)
			}
			passing, err := d.PassingAt(opening)
			if err != nil || passing != d.Passing()[i] {
				t.Errorf("%v: %v passes %v (%v)", way, passing, opening, err)
			}
		}
	}
}

func TestSharesCloseAndPassingFalls(t *testing.T) {
	d := sand(t)
	total := 0.0
	for _, share := range d.Shares() {
		total += value(t, share, "%")
	}
	if math.Abs(total-100) > 1e-12 {
		t.Errorf("the shares add up to %v %%", total)
	}
	if mass := value(t, d.Mass(), "g"); mass != 100 {
		t.Errorf("the mass is %v g", mass)
	}
	passing := d.Passing()
	if passing[0] != quantity.Of(100, "%") {
		t.Errorf("%v passes the sieve that nothing stayed on", passing[0])
	}
	for i := 1; i < len(passing); i++ {
		if passing[i-1].Less(passing[i]) {
			t.Errorf("passing rises from %v to %v", passing[i-1], passing[i])
		}
	}
}

// A level stretch: nothing between 1 and 2 mm. The smallest size that passes
// the share is meant.
func TestLevelStretch(t *testing.T) {
	for _, way := range []Interpolation{SemiLog, Linear, LogLog, Smooth} {
		d := build(t, of("mm", 4, 2, 1, 0.5), of("g", 0, 50, 0, 30, 20)).By(way)
		got, err := d.D(50)
		if err != nil {
			t.Error(err)
			continue
		}
		if mm := value(t, got, "mm"); math.Abs(mm-1) > 1e-9 {
			t.Errorf("%v: d50 = %v", way, got)
		}
	}
}

func TestNothingBeyondTheSieves(t *testing.T) {
	d := build(t, of("µm", 500, 250, 125), of("g", 5, 45, 30, 20))
	tests := []struct {
		percent float64
		want    string
	}{
		{96, "coarser sieve"}, {19, "finer sieve"}, {-1, "between 0 and 100"}, {101, "between 0 and 100"}, {math.NaN(), "between 0 and 100"},
	}
	for _, test := range tests {
		if _, err := d.D(test.percent); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("d%g: error %v, want one with %q", test.percent, err, test.want)
		}
	}
	for _, opening := range []quantity.Quantity{quantity.Of(501, "µm"), quantity.Of(124, "µm"), quantity.Of(1, "kg"), quantity.Of(math.NaN(), "mm")} {
		if _, err := d.PassingAt(opening); err == nil {
			t.Errorf("passing %v: no error", opening)
		}
	}
	none := build(t, of("µm", 500, 250, 125), of("g", 0, 45, 55, 0)).By(LogLog)
	if _, err := none.D(30); err == nil || !strings.Contains(err.Error(), "another interpolation") {
		t.Errorf("log-log down to a sieve that nothing passes: %v", err)
	}
}

func TestNewRefuses(t *testing.T) {
	tests := []struct {
		name             string
		openings, masses []quantity.Quantity
		want             string
	}{
		{"no sieve", nil, of("g", 1), "at least one sieve"},
		{"no pan", of("mm", 2, 1), of("g", 1, 2), "the last for the pan"},
		{"finest first", of("mm", 1, 2), of("g", 1, 2, 3), "coarsest first"},
		{"the same sieve twice", of("mm", 1, 1), of("g", 1, 2, 3), "coarsest first"},
		{"a mass for an opening", of("g", 2, 1), of("g", 1, 2, 3), "is a length"},
		{"an opening of 0", of("mm", 2, 0), of("g", 1, 2, 3), "above 0"},
		{"a length for a mass", of("mm", 2, 1), append(of("g", 1, 2), quantity.Of(3, "mm")), "of one kind"},
		{"a negative mass", of("mm", 2, 1), of("g", 1, -2, 3), "−2 +1 mm"},
		{"a mass that is no number", of("mm", 2, 1), of("g", 1, math.NaN(), 3), "cannot be"},
		{"nothing at all", of("mm", 2, 1), of("g", 0, 0, 0), "no mass"},
	}
	for _, test := range tests {
		_, err := New(test.openings, test.masses)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func TestLoss(t *testing.T) {
	d := sand(t) // 100 g after sieving
	tests := []struct {
		before, tolerance quantity.Quantity
		loss              float64 // %
		want              string  // in the error of CheckLoss
	}{
		{quantity.Of(100.2, "g"), quantity.Of(0.3, "%"), 100 * 0.2 / 100.2, ""},
		{quantity.Of(0.1002, "kg"), quantity.Of(0.3, "%"), 100 * 0.2 / 100.2, ""},
		{quantity.Of(101, "g"), quantity.Of(0.3, "%"), 100.0 / 101, "lost 0.99 %"},
		{quantity.Of(99, "g"), quantity.Of(0.3, "%"), -100.0 / 99, "gained 1 %"},
		{quantity.Of(100, "g"), quantity.Of(0, "%"), 0, ""},
		{quantity.Of(100, "g"), quantity.Of(1, "g"), 0, "the tolerance is a share"},
		{quantity.Of(100, "g"), quantity.Of(-1, "%"), 0, "the tolerance is a share"},
	}
	for _, test := range tests {
		loss, err := d.Loss(test.before)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := value(t, loss, "%"); math.Abs(got-test.loss) > 1e-9 {
			t.Errorf("loss from %v is %v, want %v %%", test.before, loss, test.loss)
		}
		err = d.CheckLoss(test.before, test.tolerance)
		if (err == nil) != (test.want == "") || err != nil && !strings.Contains(err.Error(), test.want) {
			t.Errorf("CheckLoss(%v, %v): %v, want one with %q", test.before, test.tolerance, err, test.want)
		}
	}
	for _, before := range []quantity.Quantity{quantity.Of(1, "m"), quantity.Of(0, "g"), quantity.Of(-5, "g")} {
		if _, err := d.Loss(before); err == nil {
			t.Errorf("loss from %v: no error", before)
		}
	}
}

func TestClassesAndMeans(t *testing.T) {
	d := build(t, append(of("mm", 1), of("µm", 500, 250)...), of("g", 1, 2, 3, 4))
	want := []string{"+1 mm", "−1000 +500 µm", "−500 +250 µm", "−250 µm"}
	for i, class := range d.Classes() {
		if class != want[i] {
			t.Errorf("class %d is %q, want %q", i, class, want[i])
		}
	}
	means := d.MeanSizes()
	if !means[0].IsNaN() || !means[3].IsNaN() {
		t.Errorf("the open classes have means %v and %v", means[0], means[3])
	}
	if mm := value(t, means[1], "mm"); math.Abs(mm-math.Sqrt(0.5)) > 1e-12 {
		t.Errorf("the mean of 1 and 0.5 mm is %v", means[1])
	}
}

// A mass curve that is one straight line from 1 to 101 µm may be cut into any
// classes: its surface mean stays 100/ln 101.
func TestSurfaceMeanDoesNotDependOnTheSieves(t *testing.T) {
	d := build(t, of("µm", 101, 76, 51, 26, 1), of("g", 0, 25, 25, 25, 25, 0))
	mean, err := d.SurfaceMean()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := value(t, mean, "µm"), 100/math.Log(101); math.Abs(got-want) > 1e-9 {
		t.Errorf("surface mean %v, want %v", got, want)
	}
	if _, err := sand(t).SurfaceMean(); err == nil || !strings.Contains(err.Error(), "1.7 %") {
		t.Errorf("with mass in the pan: %v", err)
	}
}

func TestCountsRefuse(t *testing.T) {
	tests := []struct {
		edges  []quantity.Quantity
		counts []float64
	}{
		{of("µm", 2), nil}, {of("µm", 2, 1), []float64{1, 2}}, {of("µm", 1, 2), []float64{1}},
		{of("g", 2, 1), []float64{1}}, {of("µm", 2, -1), []float64{1}}, {of("µm", 2, 1), []float64{-1}}, {of("µm", 2, 1), []float64{0}},
	}
	for _, test := range tests {
		if _, err := NewCounts(test.edges, test.counts); err == nil {
			t.Errorf("edges %v, counts %v: no error", test.edges, test.counts)
		}
	}
	c, err := NewCounts(of("µm", 2, 0), []float64{1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.Mean(0, -1); err == nil {
		t.Error("D[0,-1] of a class that reaches down to 0: no error")
	}
	if _, err := c.Mean(3, 3); err == nil {
		t.Error("D[3,3]: no error")
	}
	if mean, err := c.Mean(1, 0); err != nil || value(t, mean, "µm") != 1 {
		t.Errorf("the mean of sizes spread from 0 to 2 µm is %v (%v)", mean, err)
	}
}
