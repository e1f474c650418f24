package claims

import (
	"fmt"
	"html"
	"math"
	"strings"

	"cobber/stdlib/quantity"
)

// Kind is what a check showed.
type Kind int

// The kinds of verdicts.
const (
	Agrees     Kind = iota // the figure and what was held against it are the same, as far as both are known
	Possible               // a bound is kept; that does not make the figure true
	Differs                // they are not the same
	Impossible             // a bound of physics or of arithmetic is broken
	Open                   // cannot be checked: something is missing
)

// String is the kind in words.
func (k Kind) String() string {
	switch k {
	case Agrees:
		return "agrees"
	case Possible:
		return "possible"
	case Differs:
		return "differs"
	case Impossible:
		return "impossible"
	case Open:
		return "cannot be checked"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// Verdict is what one check showed of one figure.
type Verdict struct {
	Kind    Kind
	Name    string            // of the figure
	Stated  quantity.Quantity // the figure
	Found   quantity.Quantity // what it was held against; not a number where there is none
	Ratio   float64           // Stated over Found; not a number where that means nothing
	How     string            // what was computed, or which bound it is
	Reason  string            // in words
	Missing []string          // for Open: what the document would have to state
}

// String is the verdict in a line.
func (v Verdict) String() string {
	return v.Name + " " + v.Kind.String() + v.behind()
}

// HTML is the verdict with its figure and kind in bold.
func (v Verdict) HTML() string {
	return "<b>" + html.EscapeString(v.Name+" "+v.Kind.String()) + "</b>" + html.EscapeString(v.behind())
}

// Markdown is the verdict with its figure and kind in bold.
func (v Verdict) Markdown() string {
	return "**" + markdown.Replace(v.Name+" "+v.Kind.String()) + "**" + markdown.Replace(v.behind())
}

// markdown takes the meaning from signs that have one in Markdown.
var markdown = strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "<", "&lt;", "`", "\\`", "$", `\$`)

// behind is what stands behind the kind.
func (v Verdict) behind() string {
	if words := v.words(); words != "" {
		return ": " + words
	}
	return ""
}

// words are the ratio and the reason.
func (v Verdict) words() string {
	var parts []string
	if !math.IsNaN(v.Ratio) {
		parts = append(parts, "ratio "+times(v.Ratio))
	}
	if v.Reason != "" {
		parts = append(parts, v.Reason)
	}
	return strings.Join(parts, "; ")
}

// record keeps a verdict.
func (l *Ledger) record(v Verdict) Verdict {
	l.verdicts = append(l.verdicts, v)
	return v
}

// Verdicts are the verdicts in the order of the checks.
func (l *Ledger) Verdicts() []Verdict { return append([]Verdict{}, l.verdicts...) }

// open is a verdict on a figure that cannot be checked.
func open(e Entry, how string, missing []string) Verdict {
	return Verdict{Kind: Open, Name: e.Name, Stated: e.Value, Found: absent, Ratio: math.NaN(), How: how,
		Reason: "missing: " + strings.Join(missing, ", "), Missing: missing}
}

// absent stands where nothing was found.
var absent = quantity.Number(math.NaN())

// span is the values that a figure may have: its interval of 95 % if it is
// uncertain, and its rounding.
type span struct{ low, high quantity.Quantity }

func spanOf(q, rounding quantity.Quantity) (span, error) {
	low, high, err := q.Interval(quantity.DefaultLevel)
	if err != nil {
		return span{}, err
	}
	return span{low.Sub(rounding), high.Add(rounding)}, nil
}

// judge compares a figure with a found value, of which some rounding of sources
// is known, within a tolerance.
func judge(e Entry, found quantity.Quantity, within span, tolerance float64, how string) (Verdict, error) {
	v := Verdict{Name: e.Name, Stated: e.Value, Found: found, How: how, Ratio: ratio(e.Value, found)}
	stated, err := spanOf(e.Value, e.Rounding)
	if err != nil {
		return v, fmt.Errorf("claims: %s: %w", e.Name, err)
	}
	allowed := difference(found, math.Abs(found.Shown())*tolerance)
	low, high := within.low.Sub(allowed), within.high.Add(allowed)
	gap := e.Value.Certain().Sub(found.Certain())
	var reasons []string
	switch {
	case stated.high.Less(low), high.Less(stated.low):
		v.Kind = Differs
		reasons = append(reasons, fmt.Sprintf("%s too %s", step(gap.Abs()), choose(gap.Shown() < 0, "low", "high")))
	default:
		v.Kind = Agrees
	}
	if low.Less(high) {
		reasons = append(reasons, fmt.Sprintf("%s to %s would agree", amount(low), amount(high)))
	}
	v.Reason = strings.Join(reasons, "; ")
	return v, nil
}

// ratio is a over b, where that means something.
func ratio(a, b quantity.Quantity) float64 {
	if a.Unit().IsReading() || b.Unit().IsReading() {
		return math.NaN()
	}
	x, err := a.Certain().Div(b.Certain()).Float()
	if err != nil || math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// times is a ratio to three digits, or two where it is very large or small.
func times(ratio float64) string {
	switch {
	case math.IsNaN(ratio):
		return "–"
	case math.Abs(ratio) >= 0.01 && math.Abs(ratio) < 100:
		return fmt.Sprintf("%.3g", ratio)
	}
	return fmt.Sprintf("%.2g", ratio)
}

// step is a difference: of shares in points, which are not taken for shares of
// the figure.
func step(gap quantity.Quantity) string {
	if gap.Unit().String() == "%" {
		return fmt.Sprintf("%.3g points", gap.Certain().Shown())
	}
	return amount(gap)
}

// amount is a quantity to three digits, without its uncertainty.
func amount(q quantity.Quantity) string {
	x := q.Certain()
	if v := math.Abs(x.Shown()); v >= 1000 && v < 1e7 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.3g", x)
}

// plain is a figure as it was stated: every digit of a certain one, and an
// uncertain one as mean ± deviation.
func plain(q quantity.Quantity) string {
	if q.IsUncertain() {
		text, _, _ := strings.Cut(q.String(), " (")
		return text
	}
	return q.String()
}

// choose is yes where a condition holds, and no elsewhere.
func choose[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}
