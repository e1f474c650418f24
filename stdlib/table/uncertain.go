package table

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"cobber/stdlib/quantity"
)

// Spaces as wide as a digit and as a point, which keep points below one another
// where digits of unlike number stand.
const (
	digitSpace = "\u2007"
	pointSpace = "\u2008"
)

// spreadDigits is to how many digits a standard deviation is shown; the value
// has as many decimals (JCGM 100:2008, 7.2.6).
const spreadDigits = 2

// uncertain reports whether a column holds an uncertain quantity.
func (c Column) uncertain() bool {
	for _, q := range c.quantities {
		if q.IsUncertain() {
			return true
		}
	}
	return false
}

// plusMinus writes the cells of a column that holds uncertain quantities: mean
// ± standard deviation, each cell with the digits that its own deviation calls
// for, padded so that points and signs stand below one another.
func plusMinus(unit string, quantities []quantity.Quantity) []string {
	values, spreads := make([]string, len(quantities)), make([]string, len(quantities))
	var certain []float64
	var where []int
	for i, q := range quantities {
		x, err := q.Value(unit)
		shown, inUnit := q.In(unit)
		if !q.IsUncertain() || err != nil || inUnit != nil || math.IsNaN(x) {
			if err != nil {
				x = math.NaN()
			}
			certain, where = append(certain, x), append(where, i)
			continue
		}
		values[i], spreads[i] = matched(x, shown.StdDev().Shown())
	}
	for i, text := range format(certain) {
		values[where[i]] = text
	}
	return joined(values, spreads)
}

// matched writes a value and its standard deviation to the same place.
func matched(value, spread float64) (string, string) {
	if !(spread > 0) || math.IsInf(spread, 0) || math.IsInf(value, 0) {
		return minus(strconv.FormatFloat(value, 'g', computedDigits, 64)), minus(strconv.FormatFloat(spread, 'g', spreadDigits, 64))
	}
	_, exponent, _ := strings.Cut(strconv.FormatFloat(spread, 'e', spreadDigits-1, 64), "e")
	power, _ := strconv.Atoi(exponent) // written by FormatFloat
	if power < -7 || power > 8 || math.Abs(value) >= 1e12 {
		return minus(powerOfTen(value)), powerOfTen(spread)
	}
	if step := math.Pow(10, float64(power-spreadDigits+1)); step > 1 {
		value, spread = math.Round(value/step)*step, math.Round(spread/step)*step
	}
	decimals := max(0, spreadDigits-1-power)
	return minus(strconv.FormatFloat(value, 'f', decimals, 64)), strconv.FormatFloat(spread, 'f', decimals, 64)
}

// joined puts values and deviations together. A cell without a deviation keeps
// its room empty.
func joined(values, spreads []string) []string {
	after, before, behind := 0, 0, 0
	for i, spread := range spreads {
		after = max(after, fraction(values[i]))
		if spread != "" {
			before, behind = max(before, digitsOf(spread)-fraction(spread)), max(behind, fraction(spread))
		}
	}
	out := make([]string, len(values))
	for i, value := range values {
		text := value + padding(after-fraction(value))
		if spread := spreads[i]; spread != "" {
			text += " ± " + strings.Repeat(digitSpace, before-(digitsOf(spread)-fraction(spread))) + spread + padding(behind-fraction(spread))
		} else {
			text += pointSpace + digitSpace + pointSpace + strings.Repeat(digitSpace, before) + padding(behind)
		}
		out[i] = text
	}
	return out
}

// fraction is the room that a number takes from its point on, 0 without one.
func fraction(number string) int {
	if point := strings.IndexByte(number, '.'); point >= 0 {
		return utf8.RuneCountInString(number[point:])
	}
	return 0
}

func digitsOf(number string) int { return utf8.RuneCountInString(number) }

// padding is room for the missing end of a fraction; the first of a whole one
// is the point.
func padding(room int) string {
	if room <= 0 {
		return ""
	}
	return pointSpace + strings.Repeat(digitSpace, room-1)
}
