package plot

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
)

// scale is an axis's range and its ticks.
type scale struct {
	low, high float64
	kind      Scale
	whole     float64 // the number of 1, for scales of shares
	down      bool
	ticks     []plot.Tick // the first are kept where labels would touch
}

// fewTicks is how many labelled ticks a linear axis aims at.
const fewTicks = 6

func newScale(axis Axis, numbers []float64) scale {
	s := autoScale(axis, numbers)
	s.whole, s.down = axis.whole(), axis.Down
	if len(axis.at) > 0 {
		s.ticks = nil
		for _, x := range axis.at {
			s.ticks = append(s.ticks, plot.Tick{Value: x, Label: shortest(x)})
			s.low, s.high = math.Min(s.low, x), math.Max(s.high, x)
		}
	}
	if !axis.From.IsNothing() {
		s.low = axis.from
	}
	if !axis.To.IsNothing() {
		s.high = axis.to
	}
	return s
}

// bounded reports whether an end of the axis is given.
func (a Axis) bounded() bool { return !a.From.IsNothing() || !a.To.IsNothing() }

func autoScale(axis Axis, numbers []float64) scale {
	if n := len(axis.Names); n > 0 {
		return nameScale(axis.Names)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range numbers {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	if axis.bounded() {
		if !axis.From.IsNothing() {
			low, high = axis.from, math.Max(high, axis.from)
		}
		if !axis.To.IsNothing() {
			low, high = math.Min(low, axis.to), axis.to
		}
	}
	switch {
	case axis.Log || axis.Scale == Logarithmic:
		return logScale(low, high)
	case axis.Scale.ofShares():
		return shareScale(axis.Scale, low, high, axis.whole())
	case axis.Zero:
		low, high = math.Min(low, 0), math.Max(high, 0)
	}
	return linearScale(low, high)
}

// Normalize implements gonum/plot's Normalizer: where a value stands between
// the ends of the axis.
func (s scale) Normalize(low, high, x float64) float64 {
	at := (s.spread(x) - s.spread(low)) / (s.spread(high) - s.spread(low))
	if s.down {
		return 1 - at
	}
	return at
}

// spread is the place of a value on a scale without ends.
func (s scale) spread(x float64) float64 {
	switch s.kind {
	case Logarithmic:
		return math.Log(x)
	case Probability:
		return math.Sqrt2 * math.Erfinv(2*x/s.whole-1)
	case RosinRammler:
		return math.Log(-math.Log1p(-x / s.whole))
	}
	return x
}

// nameScale has a place for each of some names.
func nameScale(names []string) scale {
	s := scale{low: 0.5, high: float64(len(names)) + 0.5}
	for i, name := range names {
		s.ticks = append(s.ticks, plot.Tick{Value: float64(i + 1), Label: name})
	}
	return s
}

// shareTicks are the shares in % that scales of shares label, those first that
// are kept where there is little room.
var shareTicks = []float64{50, 10, 90, 1, 99, 0.1, 99.9, 0.01, 99.99, 0.001, 99.999, 20, 80, 5, 95, 30, 70, 2, 98, 40, 60, 0.2, 99.8, 0.5, 99.5, 0.02, 0.05, 99.95, 99.98}

// shareScale ends on shares that are labelled, where there are any.
func shareScale(kind Scale, low, high, whole float64) scale {
	s := scale{low: low, high: high, kind: kind, whole: whole}
	below, above := math.Inf(-1), math.Inf(1)
	for _, percent := range shareTicks {
		x := percent / 100 * whole
		if x <= low*(1+1e-9) {
			below = math.Max(below, x)
		}
		if x >= high*(1-1e-9) {
			above = math.Min(above, x)
		}
	}
	if isNumber(below) {
		s.low = below
	}
	if isNumber(above) {
		s.high = above
	}
	if s.low >= s.high { // one value, and it is labelled
		s.low, s.high = s.low/2, (s.high+whole)/2
	}
	for _, percent := range shareTicks {
		if x := percent / 100 * whole; x >= s.low*(1-1e-9) && x <= s.high*(1+1e-9) {
			s.ticks = append(s.ticks, plot.Tick{Value: x, Label: shortest(x)})
		}
	}
	if len(s.ticks) < 2 { // beyond the labelled shares: the ends have to do
		s.ticks = []plot.Tick{{Value: s.low, Label: shortest(s.low)}, {Value: s.high, Label: shortest(s.high)}}
	}
	return s
}

// shortest writes a number with no more digits than tell it.
func shortest(x float64) string {
	text := strconv.FormatFloat(x, 'g', 6, 64)
	if value, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(value) < 1e6 && (value == 0 || math.Abs(value) >= 1e-4) {
		text = strconv.FormatFloat(value, 'f', -1, 64)
	}
	return strings.Replace(text, "-", "−", 1)
}

// linearScale ends on labelled ticks, so that every value lies between two
// numbers one can read.
func linearScale(low, high float64) scale {
	// Values that agree in nine digits are drawn as equal: ticks between them
	// could not be told apart.
	if high-low <= 1e-9*math.Max(math.Abs(low), math.Abs(high)) {
		pad := math.Abs(low) / 2
		if pad == 0 {
			pad = 1
		}
		low, high = low-pad, high+pad
	}
	step := roundStep((high - low) / fewTicks)
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	s := scale{low: first * step, high: last * step}
	decimals := -int(math.Floor(math.Log10(step) + 1e-9))
	for i := first; i <= last; i++ {
		s.ticks = append(s.ticks, plot.Tick{Value: i * step, Label: tickLabel(i*step, decimals)})
	}
	return s
}

// roundStep is 1, 2 or 5 times a power of ten, not below x.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, first := range []float64{1, 2, 5} {
		if x <= first*power*(1+1e-9) {
			return first * power
		}
	}
	return 10 * power
}

// logScale ends on a first digit times a power of ten. How many of the nine
// digits of a decade are labelled depends on how many decades there are.
func logScale(low, high float64) scale {
	if low == high {
		low, high = low/2, high*2
	}
	from, to := outwards(low, -1), outwards(high, 1)
	labelled := "1"
	switch decades := math.Log10(to / from); {
	case decades <= 1.2:
		labelled = "123457"
	case decades <= 3.2:
		labelled = "125"
	}
	s := scale{low: from, high: to, kind: Logarithmic}
	for power := int(math.Floor(math.Log10(from) - 1e-9)); power <= int(math.Ceil(math.Log10(to)+1e-9)); power++ {
		for digit := 1; digit <= 9; digit++ {
			value := decimal(digit, power)
			if value < from*(1-1e-9) || value > to*(1+1e-9) {
				continue
			}
			label := ""
			if strings.Contains(labelled, strconv.Itoa(digit)) {
				label = tickLabel(value, -power)
			}
			s.ticks = append(s.ticks, plot.Tick{Value: value, Label: label})
		}
	}
	return s
}

// decimal is digit·10^power as it is read from text, without the noise of
// repeated multiplication.
func decimal(digit, power int) float64 {
	value, err := strconv.ParseFloat(strconv.Itoa(digit)+"e"+strconv.Itoa(power), 64)
	if err != nil { // beyond the range of numbers: draw at its end
		return math.MaxFloat64
	}
	return value
}

// outwards rounds x to one digit, down (direction -1) or up (1).
func outwards(x float64, direction int) float64 {
	power := int(math.Floor(math.Log10(x) + 1e-12))
	first := x / decimal(1, power)
	if direction < 0 {
		return decimal(int(math.Floor(first+1e-9)), power)
	}
	return decimal(int(math.Ceil(first-1e-9)), power)
}

// tickLabel writes a tick's number to the decimal that tells it from the next
// (below 0: left of the point), with a power of ten where it would be long.
func tickLabel(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', max(0, decimals), 64)
	if strings.Trim(text, "-0.") == "" {
		return choose(decimals > 5, "0", strings.TrimPrefix(text, "-"))
	}
	if math.Abs(x) >= 1e6 || decimals > 5 {
		digits := max(0, decimals+int(math.Floor(math.Log10(math.Abs(x))+1e-9)))
		if digits <= 4 || len(text) > 16 {
			text = powerOfTen(x, digits)
		}
	}
	return strings.ReplaceAll(text, "-", "−")
}

// powerOfTen is a number with a power of ten, as 1.5e9, with so many digits behind
// the point, less those that are 0.
func powerOfTen(x float64, digits int) string {
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', digits, 64), "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimRight(strings.TrimRight(mantissa, "0"), ".")
	}
	power, _ := strconv.Atoi(exponent)
	return mantissa + "e" + strconv.Itoa(power)
}
