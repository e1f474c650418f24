package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestInfluencesAreShown(t *testing.T) {
	Seed(1)
	feed := Must(Normal(Of(40, "t/h"), Of(2, "t/h"))).Named("feed_rate")
	grade := Must(Normal(Of(5, "%"), Of(0.5, "%"))).Named("grade <5 %")
	in := feed.Mul(grade).Influences()
	for _, c := range []struct{ got, want string }{
		{fmt.Sprint(in), "grade <5 %: 80.0 % of the variance, rank correlation 0.89\nfeed_rate: 20.0 % of the variance"},
		{in.HTML(), "<td style=\"padding:0.15em 0.75em;text-align:left\">grade &lt;5 %</td><td style=\"padding:0.15em 0.75em;text-align:right\">0.2 t/h</td>"},
		{in.Markdown(), "| feed\\_rate | 0.1 t/h | 20.0 % | 0.4"},
		{in.LaTeX(), `feed\_rate & $0.1\,\mathrm{t/h}$ & $20.0\,\%$ & $0.4`},
		{feed.FirstOrder().HTML(), "40.0&nbsp;±&nbsp;2.0&nbsp;t/h"},
		{feed.FirstOrder().LaTeX(), `$(40.0\,\pm\,2.0)\,\mathrm{t/h}$`},
		{feed.FirstOrder().Markdown(), "40.0 ± 2.0 t/h"},
		{Of(3, "t").FirstOrder().LaTeX(), `3`},
	} {
		if !strings.Contains(c.got, c.want) {
			t.Errorf("%s\nlacks %s", c.got, c.want)
		}
	}
	if len(Of(3, "t").Influences()) != 0 {
		t.Error("a certain quantity has influences")
	}
}

// JCGM 101:2008, 9.2.2.6 and 9.3.2.4: the interval to first order of a sum of four
// normal inputs is validated by the sampled one, that of the mass calibration,
// [1.1285, 1.3395] mg against [1.0834, 1.3825] mg, is not.
func TestPublishedValidation(t *testing.T) {
	useSamples(t, 200_000)
	normal := func() Quantity { return Must(Normal(Number(0), Number(1))) }
	if holds, err := Sum(normal(), normal(), normal(), normal()).FirstOrderHolds(0.95, 2); !holds || err != nil {
		t.Errorf("a sum of normal inputs: %v, %v", holds, err)
	}
	mass := Must(Normal(Of(100000, "mg"), Of(0.050, "mg"))).Add(Must(Normal(Of(1.234, "mg"), Of(0.020, "mg"))))
	density := func(low, high float64) Quantity { return Must(Uniform(Of(low, "kg/m3"), Of(high, "kg/m3"))) }
	air, weight, reference := density(1.10, 1.30), density(7000, 9000), density(7950, 8050)
	one := Number(1)
	buoyancy := one.Add(air.Sub(Of(1.2, "kg/m3")).Mul(one.Div(weight).Sub(one.Div(reference))))
	if holds, err := mass.Mul(buoyancy).Sub(Of(100000, "mg")).FirstOrderHolds(0.95, 2); holds || err != nil {
		t.Errorf("the mass calibration: %v, %v", holds, err)
	}
	if holds, err := Of(3, "t").FirstOrderHolds(0.95, 2); !holds || err != nil {
		t.Errorf("a certain quantity: %v, %v", holds, err)
	}
	for _, c := range []struct {
		level  float64
		digits int
	}{{2, 2}, {0.95, 0}, {math.NaN(), 2}} {
		if _, err := mass.FirstOrderHolds(c.level, c.digits); err == nil {
			t.Errorf("level %g and %d digits were taken", c.level, c.digits)
		}
	}
}
