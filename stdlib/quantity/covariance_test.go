package quantity

import (
	"math"
	"strings"
	"testing"
)

// JCGM 100:2008, H.2: resistance R = (V/I) cos φ, reactance X = (V/I) sin φ and
// impedance Z = V/I from five simultaneous readings of V, I and φ. The covariance
// of the means is worked out here from the readings, in the units volt, milliampere
// and radian. Published: R 127.732 Ω, u 0.071; X 219.847 Ω, u 0.295; Z 254.260 Ω,
// u 0.236; r(R,X) -0.588, r(R,Z) -0.485, r(X,Z) 0.993.
func TestPublishedImpedanceFromCovariance(t *testing.T) {
	Seed(1)
	readings := [][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999},
		{19.663, 19.639, 19.640, 19.685, 19.678},
		{1.0456, 1.0438, 1.0468, 1.0428, 1.0433},
	}
	units := []string{"V", "mA", "rad"}
	means, covariance := make([]Quantity, 3), make([][]float64, 3)
	for i, x := range readings {
		means[i] = Of(mean(x), units[i])
		covariance[i] = make([]float64, 3)
		for j, y := range readings {
			covariance[i][j] = covarianceOfSamples(x, y) / 5
		}
	}
	in, err := JointCovariance(means, covariance)
	if err != nil {
		t.Fatal(err)
	}
	z := in[0].Div(in[1]).To("Ω")
	r, x := z.Mul(Cos(in[2])), z.Mul(Sin(in[2]))
	for _, c := range []struct {
		name                   string
		q                      Quantity
		value, u, valueTo, uTo float64
	}{
		{"R", r, 127.732, 0.071, 0.0005, 0.0005},
		{"X", x, 219.847, 0.295, 0.0005, 0.0008},
		{"Z", z, 254.260, 0.236, 0.0005, 0.0008},
	} {
		f := c.q.FirstOrder()
		within(t, c.name, f.Value.Shown(), c.value, c.valueTo)
		within(t, "u of "+c.name, f.Uncertainty.Shown(), c.u, c.uTo)
		within(t, "sampled u of "+c.name, c.q.StdDev().Shown(), c.u, 0.01*c.u)
	}
	within(t, "r(R, X)", FirstOrderCorrelation(r, x), -0.588, 0.0006)
	within(t, "r(R, Z)", FirstOrderCorrelation(r, z), -0.485, 0.0006)
	within(t, "r(X, Z)", FirstOrderCorrelation(x, z), 0.993, 0.0006)
	within(t, "sampled r(R, X)", Correlation(r, x), -0.588, 0.02)
}

func TestCovarianceComesBack(t *testing.T) {
	Seed(2)
	wanted := [][]float64{{4, 1.5, 0}, {1.5, 9, -0.3}, {0, -0.3, 0.25}}
	in, err := JointCovariance([]Quantity{Of(40, "t/h"), Of(20, "°C"), Of(5, "%")}, wanted)
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range Covariance(in...) {
		for j, c := range row {
			within(t, "covariance", c, wanted[i][j], 0.02*math.Sqrt(wanted[i][i]*wanted[j][j]))
		}
	}
	if one, err := JointCovariance([]Quantity{Of(40, "t")}, [][]float64{{4}}); err != nil || math.Abs(one[0].StdDev().Shown()-2) > 2e-3 {
		t.Errorf("one quantity: %v, %v", one, err)
	}
	if c := Covariance(Of(3, "t"), in[0]); c[0][0] != 0 || c[0][1] != 0 {
		t.Errorf("covariance with a certain quantity: %v", c)
	}
	if !math.IsNaN(Correlation(in[0], Of(3, "t"))) {
		t.Error("a certain quantity has a correlation")
	}
}

func TestCovarianceRefuses(t *testing.T) {
	two := []Quantity{Of(1, "t"), Of(2, "t")}
	for _, c := range []struct {
		matrix [][]float64
		want   string
	}{
		{[][]float64{{1, 0}}, "1 rows"},
		{[][]float64{{1, 0}, {0}}, "row 2"},
		{[][]float64{{1, 0}, {0, -1}}, "variance of value 2"},
		{[][]float64{{1, 0.5}, {0.4, 1}}, "both sides"},
		{[][]float64{{1, 2}, {2, 1}}, "from -1 to 1"},
	} {
		if _, err := JointCovariance(two, c.matrix); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.matrix, err, c.want)
		}
	}
}

func TestNames(t *testing.T) {
	Seed(1)
	feed := Must(Normal(Of(40, "t/h"), Of(2, "t/h")))
	name := func(q Quantity) string { return q.Influences()[0].Name }
	for _, c := range []struct {
		q    Quantity
		want string
	}{
		{feed, "input 1"},
		{feed.Named("feed"), "feed"},
		{feed.Named("feed").Named("fresh feed"), "fresh feed"},
		{feed.Named("feed").NamedOnce("copy"), "feed"},
		{feed.NamedOnce("feed"), "feed"},
		{feed.To("kg/h").Named("feed"), "feed"},
		{feed.Named("feed").To("kg/h").Named("other"), "feed"},
		{feed.Named("feed").Mul(Number(2)).Named("twice"), "feed"},
	} {
		if name(c.q) != c.want {
			t.Errorf("%s, want %s", name(c.q), c.want)
		}
	}
	sum := feed.Add(Must(Normal(Of(4, "t/h"), Of(1, "t/h")))).Named("sum")
	if name(sum) != "input 1" || sum.Influences()[1].Name != "input 2" {
		t.Errorf("a sum took a name: %v", sum.Influences())
	}
	if q := Of(4, "t").Named("mass"); q.IsUncertain() || q.NamedOnce("mass").String() != "4 t" {
		t.Error("a certain quantity took a name")
	}
}
