package quantity

import (
	"fmt"
	"html"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Form is a quantity together with how its number is to be written. It is shown
// so by every front end; Quantity is what it was made of.
type Form struct {
	quantity Quantity
	write    func(x float64) string
}

// Quantity is the quantity that is shown, with all its digits.
func (f Form) Quantity() Quantity { return f.quantity }

// Fixed shows q with the given number of decimals, zeros too: 36.50 t/h. An
// uncertain quantity is shown, in this form and those below, as its mean ± its
// standard deviation.
func (q Quantity) Fixed(decimals int) Form {
	return Form{q, func(x float64) string { return strconv.FormatFloat(x, 'f', clamp(decimals), 64) }}
}

// Significant shows q with the given number of significant digits, zeros too:
// 0.80 t/h. The integer part is always whole: 1234 to two digits is 1234, as
// 1200 would be read as four digits; see Scientific for 1.2e+03.
func (q Quantity) Significant(digits int) Form {
	return Form{q, func(x float64) string { return significant(x, max(digits, 1)) }}
}

func significant(x float64, digits int) string {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return strconv.FormatFloat(x, 'f', clamp(digits-1), 64)
	}
	if size := math.Abs(x); size < leastPlain || size >= greatestPlain {
		return strconv.FormatFloat(x, 'e', clamp(digits-1), 64)
	}
	return strconv.FormatFloat(x, 'f', clamp(digits-1-exponentOf(x, digits)), 64)
}

// Scientific shows q as a number from 1 to 10 with a power of ten and the given
// number of significant digits: 3.65e+01 t/h.
func (q Quantity) Scientific(digits int) Form {
	return Form{q, func(x float64) string { return strconv.FormatFloat(x, 'e', clamp(digits-1), 64) }}
}

// Engineering shows q with a power of ten that is a multiple of three and the
// given number of significant digits: 36.5e3 t.
func (q Quantity) Engineering(digits int) Form {
	return Form{q, func(x float64) string { return engineering(x, max(digits, 1)) }}
}

func engineering(x float64, digits int) string {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return significant(x, digits)
	}
	power := exponentOf(x, digits)
	third := int(math.Floor(float64(power)/3)) * 3
	// Scaled in decimals, for a division by a power of ten rounds.
	mantissa, _, _ := strings.Cut(strconv.FormatFloat(x, 'e', clamp(digits-1), 64), "e")
	decimals := max(0, digits-1-(power-third))
	number := shiftPoint(mantissa, power-third, decimals)
	if third == 0 {
		return number
	}
	return number + "e" + strconv.Itoa(third)
}

// shiftPoint moves the point of a decimal number to the right.
func shiftPoint(number string, by, decimals int) string {
	exact, _ := new(big.Rat).SetString(number) // written by FormatFloat
	exact.Mul(exact, tenTo(int64(by)))
	return exact.FloatString(decimals)
}

// clamp keeps a number of digits in the range that a float can have.
func clamp(digits int) int { return min(max(digits, 0), 60) }

// Fraction shows q to the nearest fraction with a denominator up to the given
// one, a power of two as on a rule: 1 3/8 in for a largest of 16.
func (q Quantity) Fraction(largest int) Form {
	return Form{q, func(x float64) string { return fraction(x, largest) }}
}

func fraction(x float64, largest int) string {
	den := 1
	for den*2 <= largest && den < 1<<20 {
		den *= 2
	}
	parts := math.Round(math.Abs(x) * float64(den))
	if !(parts < 1<<53) {
		return sensible(x)
	}
	whole, rest := int64(parts)/int64(den), int64(parts)%int64(den)
	for rest%2 == 0 && rest > 0 {
		rest, den = rest/2, den/2
	}
	text := strconv.FormatInt(whole, 10)
	switch part := fmt.Sprintf("%d/%d", rest, den); {
	case rest > 0 && whole > 0:
		text += " " + part
	case rest > 0:
		text = part
	}
	if x < 0 && parts > 0 {
		text = "-" + text
	}
	return text
}

// LikeInputs shows q with as many significant digits as the input that has the
// fewest: the rule of thumb for products and quotients. Digits are those that a
// number needs, all of an integer, so that 40 has two and 36.50, whose last zero
// a number does not keep, three; the rule says nothing about sums, and for
// results that matter an uncertainty says more (see AsWritten). With no inputs
// it is the usual form.
func (q Quantity) LikeInputs(inputs ...Quantity) Form {
	fewest := math.MaxInt
	for _, in := range inputs {
		digits, _ := DigitsOf(strconv.FormatFloat(in.val(), 'f', -1, 64)) // a number
		fewest = min(fewest, max(digits, 1))
	}
	if len(inputs) == 0 {
		return Form{q, sensible}
	}
	return q.Significant(fewest)
}

func (f Form) digits() func(float64) string {
	if f.write == nil {
		return sensible
	}
	return f.write
}

// number is the value, or the value ± the deviation.
func (f Form) number() (text string, spread bool) {
	write := f.digits()
	if f.quantity.cloud == nil {
		text = write(f.quantity.value)
		return text, strings.Contains(text, "±")
	}
	return write(f.quantity.val()) + " ± " + write(deviation(f.quantity.cloud.samples())), true
}

// String is the number and the unit, as text that Parse reads.
func (f Form) String() string {
	number, _ := f.number()
	return f.quantity.withUnit(number)
}

// HTML is the form for a web page.
func (f Form) HTML() string {
	number, _ := f.number()
	words := strings.Fields(html.EscapeString(number))
	for i, word := range words {
		words[i] = strings.ReplaceAll(powerOfTen(word, "&thinsp;×&thinsp;10<sup>", "</sup>"), "-", "−")
	}
	text := strings.Join(words, "&nbsp;")
	if unit := f.quantity.Unit().HTML(); unit != "" {
		return text + "&nbsp;" + unit
	}
	return text
}

// Markdown is the form as text in which no sign has a meaning in Markdown.
func (f Form) Markdown() string { return markdownSigns.Replace(f.String()) }

// LaTeX is the form as a formula between dollar signs.
func (f Form) LaTeX() string { return "$" + f.Math() + "$" }

// Math is the form in LaTeX for use inside a formula, without dollar signs.
func (f Form) Math() string {
	number, spread := f.number()
	words := strings.Fields(number)
	for i, word := range words {
		words[i] = mathNumber(word)
	}
	text := strings.Join(words, `\,`)
	unit := f.quantity.Unit().Math()
	if unit == "" {
		return text
	}
	if spread {
		text = "(" + text + ")"
	}
	return text + `\,` + unit
}

// mathNumber is a number as it is written for people, or ±, in LaTeX.
func mathNumber(word string) string {
	if over, under, found := strings.Cut(word, "/"); found {
		sign := ""
		if strings.HasPrefix(over, "-") {
			sign, over = "-", over[1:]
		}
		return sign + `\tfrac{` + over + "}{" + under + "}"
	}
	word = powerOfTen(word, `\times 10^{`, "}")
	return strings.NewReplacer("±", `\pm`, "NaN", `\mathrm{NaN}`, "+Inf", `\infty`, "Inf", `\infty`).Replace(word)
}
