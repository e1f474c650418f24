package claims

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// Entry is one figure of a document.
type Entry struct {
	Name  string            // short and unique, by which checks know it, as in "recovery"
	Value quantity.Quantity // as stated; uncertain if the document says so
	Where string            // where it stands, as in "p. 4, table 2"
	Rests string            // how the document derives it, or what it depends on; may be empty

	// Rounding is half a unit of the last digit written. The zero Quantity takes
	// it from the digits of Value: 0.05 t for 12.5 t, and 0.5 t for 120 t, whose
	// 0 may not be meant; give it where the document rounds more coarsely.
	Rounding quantity.Quantity
}

// Ledger is the figures of one document and the verdicts on them. Make one with
// New.
type Ledger struct {
	document string
	entries  []Entry
	verdicts []Verdict
}

// New is an empty ledger for a document.
func New(document string) *Ledger { return &Ledger{document: document} }

// State puts figures of the document into the ledger.
//
// Units: any.
//
// Range: any figure; a figure that is stated twice goes in under two names.
//
// Errors: an entry without a name or a place; a name that is taken; a value that
// is not a number; a rounding that is not measured as the value is, or below 0.
//
// Source: good practice of reviewing: what cannot be found again cannot be
// checked.
func (l *Ledger) State(entries ...Entry) error {
	for _, e := range entries {
		switch {
		case strings.TrimSpace(e.Name) == "":
			return fmt.Errorf("claims: the figure %v needs a name", e.Value)
		case strings.TrimSpace(e.Where) == "":
			return fmt.Errorf("claims: %s: say where it stands in the document", e.Name)
		case l.has(e.Name):
			return fmt.Errorf("claims: %s is in the ledger already; give the second figure a name of its own", e.Name)
		case e.Value.IsNaN() || e.Value.IsNothing():
			return fmt.Errorf("claims: %s has no value", e.Name)
		}
		if e.Rounding.IsNothing() {
			e.Rounding = rounding(e.Value)
		}
		if !e.Rounding.Unit().Dimension().Equal(e.Value.Unit().Dimension()) {
			return fmt.Errorf("claims: %s is %v, and its rounding %v", e.Name, e.Value, e.Rounding)
		}
		if e.Rounding.Shown() < 0 {
			return fmt.Errorf("claims: %s has a rounding below 0, %v", e.Name, e.Rounding)
		}
		l.entries = append(l.entries, e)
	}
	return nil
}

// Read is State for a figure as the document writes it, with the units of old
// papers too: "250 long tons per day", "3.5 dwt/st", "85 per cent". The digits
// written count, so that 12.0 is known better than 12.
//
// Units: those of package quantity.
//
// Range: one number and one unit.
//
// Errors: what is not read as a number and a unit, such as a word with several
// meanings (a ton); as State.
//
// Source: the table of units of package quantity.
func (l *Ledger) Read(name, figure, where string) error {
	text := percent.Replace(strings.TrimSpace(figure))
	value, err := quantity.Parse(text)
	if err != nil {
		return fmt.Errorf("claims: %s: %w", name, err)
	}
	digits := text[:len(text)-len(strings.TrimLeft(text, "+-−0123456789.,eE"))]
	_, fraction, _ := strings.Cut(digits, ".")
	half := 0.5 * math.Pow(10, -float64(len(fraction)))
	if strings.ContainsAny(digits, "eE") {
		return l.State(Entry{Name: name, Value: value, Where: where})
	}
	return l.State(Entry{Name: name, Value: value, Where: where, Rounding: difference(value, half)})
}

// percent is how older papers write %.
var percent = strings.NewReplacer("per cent.", "%", "per cent", "%", "percent", "%", "p.c.", "%")

// rounding is half a unit of the last digit that a value needs to be written.
func rounding(value quantity.Quantity) quantity.Quantity {
	if value.IsUncertain() {
		return difference(value, 0)
	}
	text := strconv.FormatFloat(value.Shown(), 'e', -1, 64)
	mantissa, exponent, _ := strings.Cut(text, "e")
	_, fraction, _ := strings.Cut(mantissa, ".")
	power, _ := strconv.Atoi(exponent) // written by FormatFloat
	last := power - len(fraction)
	if len(fraction) > 12 {
		return difference(value, 0) // computed, not written
	}
	return difference(value, 0.5*math.Pow(10, float64(min(last, 0))))
}

// difference is an amount in the unit of a value; for a reading of a temperature
// scale it is a difference.
func difference(value quantity.Quantity, amount float64) quantity.Quantity {
	at := value.Unit().Quantity(amount)
	if value.Unit().IsReading() {
		return at.Sub(value.Unit().Quantity(0))
	}
	return at
}

func (l *Ledger) has(name string) bool {
	return slices.ContainsFunc(l.entries, func(e Entry) bool { return e.Name == name })
}

// Entry is the figure of a name.
//
// Units: as stated.
//
// Range: the figures of the ledger.
//
// Errors: no figure has that name; the error lists those there are.
//
// Source: the document.
func (l *Ledger) Entry(name string) (Entry, error) {
	for _, e := range l.entries {
		if e.Name == name {
			return e, nil
		}
	}
	if len(l.entries) == 0 {
		return Entry{}, errors.New("claims: the ledger holds no figure; state them first")
	}
	names := make([]string, len(l.entries))
	for i, e := range l.entries {
		names[i] = e.Name
	}
	return Entry{}, fmt.Errorf("claims: no figure is called %q; the ledger holds %s", name, strings.Join(names, ", "))
}

// Entries are the figures in the order in which they were stated.
func (l *Ledger) Entries() []Entry { return slices.Clone(l.entries) }

// find is the entries of some names, and which of them the ledger lacks.
func (l *Ledger) find(names []string) (found []Entry, missing []string) {
	for _, name := range names {
		if e, err := l.Entry(name); err == nil {
			found = append(found, e)
		} else {
			missing = append(missing, name)
		}
	}
	return found, missing
}
