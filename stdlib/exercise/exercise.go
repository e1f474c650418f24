package exercise

import (
	"fmt"
	"io"

	"cobber/stdlib/quantity"
)

// Exercise is a task with the numbers of one student. It shows its question.
type Exercise struct {
	task      Task
	values    Values
	low, high quantity.Quantity
	wrong     []quantity.Quantity // answers of the task's mistakes
}

// Question is the text, with the values in their places.
func (e Exercise) Question() string { return e.values.fill(e.task.text) }

// Values are the numbers that the question gives.
func (e Exercise) Values() Values { return e.values }

// Hints says how many hints there are.
func (e Exercise) Hints() int { return len(e.task.hints) }

// Hint is the n-th hint, counted from 1.
//
// Units: n counts.
//
// Range: 1 to Hints.
//
// Errors: a number outside the range.
//
// Source: common practice, no published source.
func (e Exercise) Hint(n int) (Advice, error) {
	if n < 1 || n > len(e.task.hints) {
		return "", fmt.Errorf("exercise %q has %d hints, and none of number %d", e.task.name, len(e.task.hints), n)
	}
	return Advice(e.values.fill(e.task.hints[n-1])), nil
}

// Advice is the text of a hint.
type Advice string

// String is the text as it was written.
func (a Advice) String() string { return string(a) }

// Markdown is the text for Markdown, formulas and all.
func (a Advice) Markdown() string { return string(a) + "\n" }

// Solution is the answer, for the teacher. Of a task that is answered within a
// range, it is the middle.
func (e Exercise) Solution() quantity.Quantity {
	if !e.task.isRange {
		return e.low
	}
	return e.low.Add(e.high).Div(quantity.Number(2))
}

// solved is the answer as the teacher's sheet shows it.
func (e Exercise) solved() string {
	if e.task.isRange {
		return e.low.String() + " to " + e.high.String()
	}
	return e.low.String()
}

// String is the question under the name of the task.
func (e Exercise) String() string { return e.task.name + ". " + e.Question() }

// Format writes the question, whatever verb asks, so that no printing shows the
// answer that the exercise carries.
func (e Exercise) Format(state fmt.State, verb rune) { io.WriteString(state, e.String()) }

// Markdown is the question for Markdown, formulas and all.
func (e Exercise) Markdown() string {
	return "**" + e.task.name + ".** " + e.Question() + "\n"
}
