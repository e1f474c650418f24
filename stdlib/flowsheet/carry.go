package flowsheet

import (
	"fmt"

	"cobber/stdlib/quantity"
)

// Carry takes uncertain inputs through a plant (Monte Carlo): answers builds and
// solves it for inputs that are certain, and returns the figures that matter. It
// is called once for each sample of the inputs (quantity.SetSamples says how
// many), and a few times more for the derivatives. What comes back are uncertain
// quantities: Interval says how wide each is, Influences which input matters.
//
// Units: inputs and answers are any quantities; of each call as many answers, in
// the same order.
//
// Range: inputs for all of whose samples the plant runs: choose distributions that
// stay within what units accept.
//
// Errors: what answers refuses, with the sample; answers of another number or kind
// than at the means; no answers.
//
// Source: JCGM 101:2008, propagation of distributions.
func Carry(inputs []quantity.Quantity, answers func(inputs []quantity.Quantity) ([]quantity.Quantity, error)) ([]quantity.Quantity, error) {
	var calls [][]quantity.Quantity // of the first answer; the others are asked in the same order
	count := 0
	ask := func(v []quantity.Quantity) ([]quantity.Quantity, error) {
		got, err := answers(v)
		switch {
		case err != nil:
			return nil, err
		case len(got) == 0:
			return nil, fmt.Errorf("flowsheet: there are no answers to carry")
		case len(calls) > 0 && len(got) != len(calls[0]):
			return nil, fmt.Errorf("flowsheet: %d answers here and %d at the means", len(got), len(calls[0]))
		}
		return got, nil
	}
	first, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		got, err := ask(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		calls = append(calls, got)
		return got[0], nil
	}, inputs...)
	if err != nil {
		return nil, err
	}
	results := []quantity.Quantity{first}
	for k := 1; k < len(calls[0]); k++ {
		count = 0
		q, err := quantity.Through(func([]quantity.Quantity) (quantity.Quantity, error) {
			count++
			return calls[count-1][k], nil
		}, inputs...)
		if err != nil {
			return nil, fmt.Errorf("flowsheet: answer %d: %w", k+1, err)
		}
		results = append(results, q)
	}
	return results, nil
}
