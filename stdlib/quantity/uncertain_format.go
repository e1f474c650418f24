package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// uncertaintyDigits is to how many digits an uncertainty is shown; the value
// has as many decimals (JCGM 100:2008, 7.2.6).
const uncertaintyDigits = 2

// matched writes a value to the decimals that its uncertainty calls for, and
// gives the function that writes other numbers so.
func matched(value, uncertainty float64) (string, func(float64) string) {
	digits := func(x float64) string { return sensible(x) }
	if uncertainty > 0 && !math.IsInf(uncertainty, 0) && !math.IsNaN(value) && !math.IsInf(value, 0) {
		power := exponentOf(uncertainty, uncertaintyDigits)
		most := max(power, exponentOf(value, 6))
		if power >= -9 && most < 15 {
			step := math.Pow(10, float64(max(0, power-uncertaintyDigits+1)))
			digits = func(x float64) string {
				if step > 1 {
					x = math.Round(x/step) * step
				}
				return strconv.FormatFloat(x, 'f', max(0, uncertaintyDigits-1-power), 64)
			}
		} else {
			digits = func(x float64) string { return strconv.FormatFloat(x, 'e', max(most-power, 0)+uncertaintyDigits-1, 64) }
		}
	}
	return digits(value), digits
}

// exponentOf is the power of ten of x rounded to some digits: 1 for 9.96.
func exponentOf(x float64, digits int) int {
	if x == 0 {
		return math.MinInt32
	}
	_, exponent, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', digits-1, 64), "e")
	power, _ := strconv.Atoi(exponent) // written by FormatFloat
	return power
}

// halfUnitOf is half a unit in the last of some significant digits of x.
func halfUnitOf(x float64, digits int) float64 {
	if x == 0 {
		return 0
	}
	return 0.5 * math.Pow(10, float64(exponentOf(x, digits)-digits+1))
}

// plusMinus writes the mean, ± the standard deviation, and the ends of the
// interval, without the unit. digits is nil for as many as fit.
func (q Quantity) plusMinus(digits func(float64) string) (value, interval string) {
	spread := deviation(q.cloud.samples())
	if digits == nil {
		_, digits = matched(q.val(), spread)
	}
	x := q.sorted()
	low, high := quantileOf(x, (1-DefaultLevel)/2), quantileOf(x, (1+DefaultLevel)/2)
	value = digits(q.val()) + " ± " + digits(spread)
	return value, fmt.Sprintf("(%g %%: %s to %s)", 100*DefaultLevel, digits(low), digits(high))
}

// uncertainText is "36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)".
func (q Quantity) uncertainText() string {
	value, interval := q.plusMinus(nil)
	return q.withUnit(value) + " " + interval
}

func (q Quantity) uncertainHTML() string {
	value, interval := q.plusMinus(nil)
	rewrite := func(text string) string {
		var words []string
		for _, word := range strings.Fields(text) {
			words = append(words, strings.ReplaceAll(powerOfTen(word, "&thinsp;×&thinsp;10<sup>", "</sup>"), "-", "−"))
		}
		return strings.Join(words, "&nbsp;")
	}
	text := rewrite(value)
	if unit := q.Unit().HTML(); unit != "" {
		text += "&nbsp;" + unit
	}
	return text + " <small>" + rewrite(interval) + "</small>"
}

func (q Quantity) uncertainMath() string {
	value, interval := q.plusMinus(nil)
	rewrite := func(text string) string {
		words := strings.Fields(text)
		for i, word := range words {
			if word[0] != '(' && word != "to" {
				bare := strings.TrimSuffix(word, ")")
				words[i] = powerOfTen(bare, `\times 10^{`, "}") + word[len(bare):]
			}
		}
		return strings.NewReplacer("±", `\pm`, " %:", `\,\%:\;`, " to ", `\text{ to }`, "NaN", `\mathrm{NaN}`, "Inf", `\infty`).
			Replace(strings.Join(words, " "))
	}
	value = rewrite(value)
	if unit := q.Unit().Math(); unit != "" {
		value = "(" + value + `)\,` + unit
	}
	return value + `\;` + rewrite(interval)
}
