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
	log       bool
	ticks     []plot.Tick
}

// fewTicks is how many labelled ticks a linear axis aims at.
const fewTicks = 6

func newScale(axis Axis, numbers []float64) scale {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range numbers {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	if axis.Log {
		return logScale(low, high)
	}
	if axis.Zero {
		low, high = math.Min(low, 0), math.Max(high, 0)
	}
	return linearScale(low, high)
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
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
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
	s := scale{low: from, high: to, log: true}
	for power := int(math.Floor(math.Log10(from) - 1e-9)); power <= int(math.Ceil(math.Log10(to)+1e-9)); power++ {
		for digit := 1; digit <= 9; digit++ {
			value := decimal(digit, power)
			if value < from*(1-1e-9) || value > to*(1+1e-9) {
				continue
			}
			label := ""
			if strings.Contains(labelled, strconv.Itoa(digit)) {
				label = tickLabel(value, max(0, -power))
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

// tickLabel writes a tick's number, with a power of ten where it would be long.
func tickLabel(x float64, decimals int) string {
	if x != 0 && (math.Abs(x) >= 1e6 || decimals > 5) {
		mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', -1, 64), "e")
		if len(mantissa) > 5 {
			mantissa, exponent, _ = strings.Cut(strconv.FormatFloat(x, 'e', 2, 64), "e")
		}
		power, _ := strconv.Atoi(exponent)
		return strings.Replace(mantissa+"e"+strconv.Itoa(power), "-", "−", -1)
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}
