package exercise

import (
	"fmt"
	"html"
	"math"

	"cobber/stdlib/quantity"
)

// Verdict is what an answer is.
type Verdict int

// The verdicts.
const (
	Right       Verdict = iota
	WrongUnit           // the number is right and its unit is not, or it measures something else
	WrongMethod         // what a known mistake leads to
	WrongValue          // a number of the right kind, for another reason wrong
	Unreadable          // no quantity at all
)

// String is the verdict in words.
func (v Verdict) String() string {
	switch v {
	case Right:
		return "right"
	case WrongUnit:
		return "wrong unit"
	case WrongMethod:
		return "wrong method"
	case WrongValue:
		return "wrong value"
	}
	return "not readable"
}

// Mark is what becomes of an answer. It does not tell the right one.
type Mark struct {
	Verdict Verdict
	Given   string // the answer as it was given
	Comment string // what to look at
}

// String is the verdict and the comment in a line.
func (m Mark) String() string {
	return m.Given + ": " + m.Verdict.String() + ending(m.Comment)
}

func ending(comment string) string {
	if comment == "" {
		return "."
	}
	return ". " + comment
}

// Markdown is the mark for Markdown.
func (m Mark) Markdown() string {
	return m.Given + ": **" + m.Verdict.String() + "**" + ending(m.Comment) + "\n"
}

// HTML is the mark for pages. The verdict is in words, not in its colour alone.
func (m Mark) HTML() string {
	colour := "#a3581c"
	if m.Verdict == Right {
		colour = "#1d6b3f"
	}
	return fmt.Sprintf(`<div style="border-left:4px solid %s;padding:.1em .8em">%s: <b>%s</b>%s</div>`,
		colour, html.EscapeString(m.Given), m.Verdict, html.EscapeString(ending(m.Comment)))
}

// MarkText marks an answer as a student writes it: "3.1 t/h".
func (e Exercise) MarkText(answer string) Mark {
	q, err := quantity.Parse(answer)
	if err != nil {
		return Mark{Unreadable, "“" + answer + "”", "Write a number and a unit: " + err.Error() + "."}
	}
	return e.Mark(q)
}

// Mark marks an answer. It looks, in this order, whether the answer is right, is
// of another dimension, has the right number beside another unit, is what one of
// the task's mistakes leads to, is on the other basis of moisture, is a factor of
// 100, 1000 or of minutes, hours or days away, or is what the other product gets;
// the first that holds decides. An uncertain answer counts with its mean.
func (e Exercise) Mark(answer quantity.Quantity) Mark {
	m := Mark{Given: answer.String()}
	switch {
	case isNoNumber(answer):
		m.Verdict, m.Comment = Unreadable, "It is no finite number."
	case !answer.Dimension().Equal(e.low.Dimension()):
		m.Verdict, m.Comment = WrongUnit, e.otherDimension(answer)
	case e.isRight(answer.SI()):
		m.Verdict = Right
	case e.near(answer.Shown()*e.low.SI()/e.low.Shown()) && !sameUnit(answer, e.low):
		m.Verdict, m.Comment = WrongUnit, "The number is right. Look at its unit again."
	default:
		m.Verdict, m.Comment = e.mistaken(answer)
	}
	return m
}

func sameUnit(a, b quantity.Quantity) bool { return a.Unit().String() == b.Unit().String() }

// otherDimension says what the answer should measure, without telling more.
func (e Exercise) otherDimension(answer quantity.Quantity) string {
	if e.near(answer.Shown() * e.low.SI() / e.low.Shown()) {
		if answer.Unit().String() == "" || answer.Unit().String() == "1" {
			return "The number is right, and it needs a unit."
		}
		return "The number is right, and the unit measures something else: " + measured(answer) + " for " + measured(e.low) + "."
	}
	return "It measures something else: " + measured(answer) + " for " + measured(e.low) + ". Follow the units through your working."
}

func measured(q quantity.Quantity) string {
	if q.Dimension().IsOne() {
		return "a plain number"
	}
	return q.Dimension().String()
}

// isRight compares in SI units.
func (e Exercise) isRight(x float64) bool {
	if e.task.isRange {
		return x >= e.low.SI()-1e-12*math.Abs(e.low.SI()) && x <= e.high.SI()+1e-12*math.Abs(e.high.SI())
	}
	return e.near(x)
}

// near reports whether a number in SI units is as near to the answer as the task
// asks for.
func (e Exercise) near(x float64) bool { return e.nearTo(x, 1) }

// nearTo is near for an answer that a mistake has made factor times as large.
func (e Exercise) nearTo(x, factor float64) bool {
	if e.task.isRange {
		low, high := e.low.SI()*factor, e.high.SI()*factor
		return x >= math.Min(low, high) && x <= math.Max(low, high)
	}
	return math.Abs(x-e.low.SI()*factor) <= e.margin(factor)
}

func (e Exercise) margin(factor float64) float64 {
	if e.task.tolerance.Dimension().IsOne() && !(e.low.Dimension().IsOne() && e.low.SI() == 0) {
		return math.Abs(e.task.tolerance.SI()*e.low.SI()*factor)*(1+1e-9) + 1e-300
	}
	return math.Abs(e.task.tolerance.SI()*factor) * (1 + 1e-9)
}

// mistaken looks for the method behind a wrong number.
func (e Exercise) mistaken(answer quantity.Quantity) (Verdict, string) {
	x := answer.SI()
	for i, m := range e.task.mistakes {
		wrong := e.wrong[i]
		margin := math.Max(math.Abs(e.task.tolerance.SI()*wrong.SI()), 1e-300)
		if !e.task.tolerance.Dimension().IsOne() {
			margin = e.task.tolerance.SI()
		}
		if wrong.Dimension().Equal(answer.Dimension()) && math.Abs(x-wrong.SI()) <= margin {
			return WrongMethod, m.comment
		}
	}
	if e.task.moisture != "" {
		water := e.values.Of(e.task.moisture).SI()
		if e.nearTo(x, 1-water) || e.nearTo(x, 1/(1-water)) {
			return WrongMethod, "That is on the other basis of moisture. Is the mass wet or dry?"
		}
	}
	if comment := e.factor(x); comment != "" {
		return WrongMethod, comment
	}
	if e.low.Dimension().IsOne() && !e.task.isRange && math.Abs(x-(1-e.low.SI())) <= e.margin(1) {
		return WrongMethod, "That is what the other product gets: the two make 100 %."
	}
	if e.low.SI() != 0 && e.nearTo(x, -1) {
		return WrongMethod, "The sign is the other one. What is taken from what?"
	}
	return WrongValue, e.direction(x)
}

// factors are the powers and conversions that get lost on the way.
var factors = []struct {
	factor  float64
	comment string
}{
	{100, "It is a factor of 100 away. Is a percentage taken for a share, or the other way round?"},
	{1000, "It is a factor of 1000 away. Look at the prefixes of the units."},
	{60, "It is a factor of 60 away. Look at minutes, hours and seconds."},
	{3600, "It is a factor of 3600 away. Look at hours and seconds."},
	{24, "It is a factor of 24 away. Look at hours and days."},
}

func (e Exercise) factor(x float64) string {
	for _, f := range factors {
		if e.nearTo(x, f.factor) || e.nearTo(x, 1/f.factor) {
			return f.comment
		}
	}
	return ""
}

func (e Exercise) direction(x float64) string {
	if math.Abs(x-e.Solution().SI()) <= 4*e.margin(1) && !e.task.isRange {
		return "It is close. Was a number rounded on the way?"
	}
	if x > e.high.SI() {
		return "It is too large."
	}
	return "It is too small."
}
