package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// Histogram is the samples of an uncertain quantity in classes of equal width,
// with its mean and the ends of the interval that holds 95 % of them. A value
// that somebody claims may stand beside it.
//
// Units: as the quantity; the heights are shares of the samples in %.
//
// Range: 0.1 % of the samples at each end may lie outside the classes, where
// they would leave the rest too little room; the axis says how many do.
//
// Errors: a certain quantity; a claim of another dimension.
//
// Source: the interval after JCGM 101:2008, 7.7; the width of the classes after
// D. Freedman, P. Diaconis, Z. Wahrscheinlichkeitstheorie 57 (1981) 453.
func Histogram(title, what string, q quantity.Quantity, claimed quantity.Quantity) (*plot.Figure, error) {
	if !q.IsUncertain() {
		return nil, fmt.Errorf("chart: a histogram needs an uncertain quantity, and %v is certain", q)
	}
	samples := q.Samples()
	slices.Sort(samples)
	edges, outside := classes(samples)
	unit := q.Unit()
	boxes := plot.Boxes{Colour: 3}
	for i := range edges[1:] {
		n := count(samples, edges[i], edges[i+1], i == len(edges)-2)
		boxes.Left, boxes.Right = append(boxes.Left, unit.Quantity(edges[i])), append(boxes.Right, unit.Quantity(edges[i+1]))
		boxes.Bottom, boxes.Top = append(boxes.Bottom, quantity.Of(0, "%")), append(boxes.Top, quantity.Of(100*float64(n)/float64(len(samples)), "%"))
	}
	low, high, err := q.Interval(quantity.DefaultLevel)
	if err != nil {
		return nil, fmt.Errorf("chart: %w", err)
	}
	digits := func(of quantity.Quantity) string { return besides(of.To(unit.String()), high.Sub(low)) }
	marks := []plot.Mark{boxes,
		plot.Upright{Name: "2.5 %: " + digits(low), X: low.Certain()},
		plot.Upright{Name: "mean: " + digits(q), X: q.Certain()},
		plot.Upright{Name: "97.5 %: " + digits(high), X: high.Certain()}}
	if !claimed.IsNothing() {
		if !claimed.Unit().Compatible(unit) {
			return nil, fmt.Errorf("chart: %v is claimed of what is %v", claimed, q)
		}
		marks = append(marks, plot.Upright{Name: "claimed: " + digits(claimed), X: claimed.Certain()})
	}
	most := quantity.Max(boxes.Top[0], boxes.Top[1:]...)
	axis := plot.Axis{Name: "share of the samples", Unit: "%", Zero: true, To: most.Mul(quantity.Number(1.3))} // room for names
	if outside > 0 {
		axis.Name = fmt.Sprintf("share of the samples (%.2g %% outside)", 100*float64(outside)/float64(len(samples)))
	}
	return plot.Draw(plot.Axes{Title: title, X: plot.Axis{Name: what, Unit: unit.String()}, Y: axis}, marks...)
}

// besides is a value in words: to four digits, to more where they are needed to
// tell it from others within a width, and 0 for what is nothing beside the width.
func besides(q, width quantity.Quantity) string {
	x, wide := q.Shown(), width.To(q.Unit().String()).Shown()
	digits := 4
	if wide > 0 && x != 0 {
		before := int(math.Floor(math.Log10(math.Abs(x))))
		if needed := 3 + before - int(math.Floor(math.Log10(wide))); needed > digits {
			digits = min(15, max(needed, before+1)) // all that stand before the point, without a power of ten
		}
		x = choose(math.Abs(x) < wide/1e6, 0, x)
	}
	text := fmt.Sprintf("%.*g", digits, q.Unit().Quantity(x))
	if strings.HasPrefix(text, "-") {
		text = "−" + text[1:]
	}
	return text
}

// classes are the edges of a histogram of sorted samples, and how many samples
// lie outside them. There are 30 classes at most: inputs whose samples are spread
// evenly leave patterns in finer ones.
func classes(samples []float64) (edges []float64, outside int) {
	n := len(samples)
	low, high := samples[0], samples[n-1]
	core := samples[n*999/1000] - samples[n/1000]
	if core > 0 && high-low > 1.6*core {
		low, high = samples[n/1000], samples[n*999/1000]
	}
	if low == high {
		low, high = low-0.5, high+0.5
	}
	wide := 2 * (samples[n*3/4] - samples[n/4]) / math.Cbrt(float64(n))
	k := 40
	if wide > 0 {
		k = int(math.Min(30, math.Max(8, math.Ceil((high-low)/wide))))
	}
	for i := range k {
		edges = append(edges, low+(high-low)*float64(i)/float64(k))
	}
	edges = append(edges, high)
	for _, x := range samples {
		if x < low || x > high {
			outside++
		}
	}
	return edges, outside
}

// count is how many sorted samples lie from one edge to below the next; the last
// class holds its upper edge, too.
func count(samples []float64, from, to float64, last bool) int {
	first, _ := slices.BinarySearch(samples, from)
	if last {
		to = math.Nextafter(to, math.Inf(1))
	}
	end, _ := slices.BinarySearch(samples, to)
	return end - first
}

// Effect is what one input of a result does to it: the result with the input at
// its low end and at its high end, all others as they are.
type Effect struct {
	Name      string
	Low, High quantity.Quantity
}

// Tornado is the effects of inputs on a result as bars about it, the greatest
// above.
//
// Units: all in that of the result.
//
// Range: as far as the inputs were moved; effects of several at once do not
// simply add up.
//
// Errors: no effect; effects of another dimension than the result.
//
// Source: one-at-a-time sensitivity; common practice.
func Tornado(title, what string, result quantity.Quantity, effects ...Effect) (*plot.Figure, error) {
	if len(effects) == 0 {
		return nil, errors.New("chart: a tornado needs effects")
	}
	unit := result.Unit()
	for _, e := range effects {
		if !e.Low.Unit().Compatible(unit) || !e.High.Unit().Compatible(unit) {
			return nil, fmt.Errorf("chart: tornado: %s gives %v and %v, and the result is %v", e.Name, e.Low, e.High, result)
		}
	}
	sorted := slices.Clone(effects)
	reach := func(e Effect) float64 {
		return math.Abs(e.High.To(unit.String()).Shown() - e.Low.To(unit.String()).Shown())
	}
	slices.SortStableFunc(sorted, func(a, b Effect) int { return -cmp(reach(a), reach(b)) })
	base := result.Certain()
	var names, lowWords, highWords []string
	var lows, highs, from []quantity.Quantity
	for _, e := range sorted {
		names = append(names, e.Name)
		lows, highs, from = append(lows, e.Low.Certain()), append(highs, e.High.Certain()), append(from, base)
		low, high := endWords(e.Low.To(unit.String()).Shown(), e.High.To(unit.String()).Shown(), base.To(unit.String()).Shown())
		lowWords, highWords = append(lowWords, low), append(highWords, high)
	}
	return plot.Draw(plot.Axes{Title: title, X: plot.Axis{Name: what, Unit: unit.String()}, Y: plot.Axis{Names: names}},
		plot.Bars{Name: "input low", At: places(len(names)), From: from, To: lows, Sideways: true, Labels: lowWords, Colour: 3},
		plot.Bars{Name: "input high", At: places(len(names)), From: from, To: highs, Sideways: true, Labels: highWords, Colour: 2},
		plot.Upright{X: base})
}

// endWords are the words at the ends of two bars from a base. Where both lie on
// one side, the longer has the words of both, for those of the shorter would
// stand in it.
func endWords(low, high, base float64) (lowWord, highWord string) {
	lowWord, highWord = number(low), number(high)
	if (low-base)*(high-base) <= 0 {
		return lowWord, highWord
	}
	both := "low " + lowWord + ", high " + highWord
	if math.Abs(low-base) > math.Abs(high-base) {
		return both, ""
	}
	return "", both
}

func cmp(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Influences is the tornado of an uncertain result: the effect of each of its
// inputs, moved by one standard deviation to each side, to first order.
//
// Units: that of the result.
//
// Range: where the result is nearly straight over the width of its inputs.
//
// Errors: a certain result, or one without named inputs to tell apart.
//
// Source: the law of propagation of uncertainty, JCGM 100:2008, 5.
func Influences(title, what string, result quantity.Quantity) (*plot.Figure, error) {
	influences := result.Influences()
	if len(influences) == 0 {
		return nil, fmt.Errorf("chart: %v is certain, and no input matters to it", result)
	}
	base := result.Certain()
	var effects []Effect
	for _, i := range influences {
		effects = append(effects, Effect{
			Name: fmt.Sprintf("%s (%.0f %%)", i.Name, 100*i.Share),
			Low:  base.Sub(i.Contribution), High: base.Add(i.Contribution),
		})
	}
	return Tornado(title, what, result, effects...)
}
