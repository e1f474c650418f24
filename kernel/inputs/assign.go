package inputs

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"cobber/stdlib/quantity"
)

// Text is the value of a variable as it can be written from outside; false for one
// that cannot.
func Text(variable any) (string, bool) {
	switch v := variable.(type) {
	case *quantity.Quantity:
		return v.String(), true
	case *float64:
		return strconv.FormatFloat(*v, 'g', -1, 64), true
	case *int:
		return strconv.Itoa(*v), true
	case *string:
		return *v, true
	case *bool:
		return strconv.FormatBool(*v), true
	}
	return "", false
}

// Assign gives a variable the value that a text says, of the kind that the
// variable has already. After an error the variable is as it was.
func Assign(variable any, text string) error {
	switch v := variable.(type) {
	case *quantity.Quantity:
		return assignQuantity(v, text)
	case *float64:
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return fmt.Errorf("the cell has a number without a unit there, such as %g", *v)
		}
		if !isFinite(x) {
			return notFinite(text)
		}
		*v = x
	case *int:
		n, err := strconv.Atoi(text)
		if err != nil {
			return fmt.Errorf("the cell has a whole number there, such as %d", *v)
		}
		*v = n
	case *string:
		*v = text
	case *bool:
		b, err := strconv.ParseBool(text)
		if err != nil {
			return errors.New("the cell has true or false there")
		}
		*v = b
	default:
		return errors.New("only quantities, numbers, texts, true and false can be set from outside")
	}
	return nil
}

func assignQuantity(v *quantity.Quantity, text string) error {
	q, err := quantity.Parse(text)
	if err != nil {
		return err
	}
	if unit := v.Unit().Symbol(); unit != "" && q.Unit().Symbol() == "" {
		return fmt.Errorf("the cell has it in %s: write the unit too, such as %v", unit, *v)
	}
	if !v.IsNothing() {
		if _, err := q.InUnit(v.Unit()); err != nil {
			return fmt.Errorf("the cell has it in %s, and %w", unitWord(*v), err)
		}
	}
	if !isFinite(q.SI()) {
		return notFinite(text)
	}
	*v = q
	return nil
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func notFinite(text string) error {
	return fmt.Errorf("an input is a finite number, and %s is not", text)
}

func unitWord(q quantity.Quantity) string {
	if symbol := q.Unit().Symbol(); symbol != "" {
		return symbol
	}
	return "no unit"
}
