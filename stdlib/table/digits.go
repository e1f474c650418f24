package table

import (
	"math"
	"strconv"
	"strings"
)

// missing stands where there is no number.
const missing = "–"

// Values with at most exactDigits significant digits are data someone wrote
// down and are shown whole; longer ones come from arithmetic and are cut to
// computedDigits at the largest of the column.
const (
	exactDigits    = 7
	computedDigits = 4
	leastDigits    = 1 // that the smallest value keeps, if that costs no more than exactDigits at the largest
)

// format writes the numbers of one column with one number of decimals, so that
// right alignment puts the points below one another. A column that spans too
// much for that is written with powers of ten.
func format(numbers []float64) []string {
	texts := make([]string, len(numbers))
	decimals, plain := decimalsFor(numbers)
	for i, x := range numbers {
		switch {
		case math.IsNaN(x):
			texts[i] = missing
		case math.IsInf(x, 0):
			texts[i] = strings.NewReplacer("Inf", "∞", "-", "−").Replace(strconv.FormatFloat(x, 'f', 0, 64))
		case plain:
			texts[i] = minus(strconv.FormatFloat(x, 'f', decimals, 64))
		default:
			texts[i] = minus(powerOfTen(x))
		}
	}
	return texts
}

// formatTo is format with a number of decimals that was asked for.
func formatTo(numbers []float64, decimals int) []string {
	texts := format(numbers)
	for i, x := range numbers {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			texts[i] = minus(strconv.FormatFloat(x, 'f', decimals, 64))
		}
	}
	return texts
}

// decimalsFor is the number of decimals for a column; plain is false where
// powers of ten serve better.
func decimalsFor(numbers []float64) (decimals int, plain bool) {
	largest, smallest, broken, needed := 0.0, math.Inf(1), 0.0, 0
	for _, x := range numbers {
		if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		largest, smallest = math.Max(largest, math.Abs(x)), math.Min(smallest, math.Abs(x))
		needed = max(needed, decimalsWritten(x))
		if decimalsWritten(x) > 0 { // a total of 100 % does not cost the shares beside it a digit
			broken = math.Max(broken, math.Abs(x))
		}
	}
	if largest == 0 {
		return 0, true
	}
	if largest >= 1e9 || largest < 1e-4 {
		return 0, false
	}
	before := magnitude(largest) + 1 // digits before the point, not counting a lone 0
	if needed+before <= exactDigits {
		return needed, true
	}
	decimals = max(0, computedDigits-before)
	if broken > 0 {
		decimals = max(decimals, min(computedDigits-magnitude(broken)-1, exactDigits-before))
	}
	forSmallest := leastDigits - magnitude(smallest) - 1
	decimals = max(decimals, min(forSmallest, exactDigits-before))
	return min(decimals, needed), true
}

// magnitude is the power of ten of the first digit.
func magnitude(x float64) int { return int(math.Floor(math.Log10(x) + 1e-12)) }

// decimalsWritten is how many decimals x has once the noise of binary
// arithmetic, beyond the twelfth digit, is gone.
func decimalsWritten(x float64) int {
	text := strconv.FormatFloat(x, 'e', 11, 64)
	mantissa, exponent, _ := strings.Cut(text, "e")
	power, _ := strconv.Atoi(exponent)
	digits := strings.TrimRight(mantissa, "0")
	_, fraction, _ := strings.Cut(digits, ".")
	return max(0, len(fraction)-power)
}

// powerOfTen writes x as 1.234·10⁻⁵.
func powerOfTen(x float64) string {
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', computedDigits-1, 64), "e")
	power, _ := strconv.Atoi(exponent)
	if power == 0 {
		return mantissa
	}
	return mantissa + "·10" + strings.NewReplacer(
		"-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴",
		"5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹").Replace(strconv.Itoa(power))
}

// minus writes the sign as typeset numbers have it, and takes it from a zero.
func minus(text string) string {
	rest, negative := strings.CutPrefix(text, "-")
	if !negative {
		return text
	}
	if strings.Trim(rest, "0.") == "" {
		return rest
	}
	return "−" + rest
}
