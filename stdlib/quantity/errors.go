package quantity

import (
	"fmt"
	"strings"
)

// UnitError says why a text is not a unit.
type UnitError struct {
	Text    string   // the whole text
	Part    string   // the piece of it that is wrong; may be empty
	Offset  int      // where Part begins in Text, in bytes from 0
	Nearest []string // known units that may be meant, best first
	Reason  string   // why, and what to write; empty for a unit that is simply unknown
}

func (e *UnitError) Error() string {
	var b strings.Builder
	if e.Reason == "" {
		fmt.Fprintf(&b, "there is no unit %q", e.Part)
		if e.Part != e.Text {
			fmt.Fprintf(&b, " in %q", e.Text)
		}
	} else {
		fmt.Fprintf(&b, "unit %q: %s", e.Text, e.Reason)
	}
	if len(e.Nearest) > 0 {
		if e.Reason == "" {
			fmt.Fprintf(&b, "; nearest: %s", strings.Join(e.Nearest, ", "))
		} else {
			fmt.Fprintf(&b, "; write %s", alternatives(e.Nearest))
		}
	}
	return b.String()
}

func alternatives(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// DimensionError says why two quantities cannot be added, compared or
// converted. Arithmetic panics with it, as Go does on division by zero.
type DimensionError struct {
	Op          string   // "add", "subtract", "compare", "show", "multiply", "divide", ...
	Left, Right Quantity // the operands; for "show" the unit asked for is that of Right
	Reason      string   // what is wrong beyond the dimensions, and what to do
}

func (e *DimensionError) Error() string {
	left, right := describeOperand(e.Left, e.Reason == ""), describeOperand(e.Right, e.Reason == "")
	var text string
	switch e.Op {
	case "":
		return e.Reason
	case "add":
		text = "cannot add " + left + " and " + right
	case "subtract":
		text = "cannot subtract " + right + " from " + left
	case "compare":
		text = "cannot compare " + left + " with " + right
	case "multiply":
		text = "cannot multiply " + left + " by " + right
	case "divide":
		text = "cannot divide " + left + " by " + right
	case "show":
		text = "cannot show " + left + " in " + describeUnit(e.Right.unit, e.Reason == "")
	default:
		text = "cannot " + e.Op + " " + left
	}
	if e.Reason != "" {
		text += ": " + e.Reason
	}
	return text
}

func describeOperand(q Quantity, withDimension bool) string {
	text := q.String()
	if !withDimension || q.unit == nil {
		return text
	}
	return text + dimensionNote(q.unit)
}

func describeUnit(u *unit, withDimension bool) string {
	if u == nil || u.symbol == "" {
		return "a pure number"
	}
	if !withDimension {
		return u.symbol
	}
	return u.symbol + dimensionNote(u)
}

func dimensionNote(u *unit) string {
	name, example := u.dimension.describe()
	if u.symbol == "" || example == "" || example == u.symbol {
		return " (" + name + ")"
	}
	return " (" + name + ", as " + example + ")"
}
