package exercise

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// Task is a question whose values vary. Each student gets an Exercise of it.
type Task struct {
	name, text string
	answer     func(Values) (low, high quantity.Quantity, err error)
	isRange    bool
	varied     []varied
	tolerance  quantity.Quantity
	unit       string
	moisture   string
	hints      []string
	mistakes   []mistake
}

// A mistake is a way to go wrong that the teacher knows of.
type mistake struct {
	comment string
	answer  func(Values) (quantity.Quantity, error)
}

// Part is one thing that is said of a task: how a value varies, how near an
// answer must come, a hint, a mistake to look for.
type Part struct{ apply func(*Task) error }

// New is a task whose answer is a quantity. In the text, {feed} stands for the
// value called feed. The answer is worked out from the values:
//
//	func(v exercise.Values) (quantity.Quantity, error) { return v.Of("feed").Mul(v.Of("yield")), nil }
//
// where a cell writes v.Of("feed") * v.Of("yield"). Unless Within says otherwise,
// an answer within 1 % of it is right.
//
// Units: those of the values decide that of the answer; In shows it in another.
//
// Range: any dimension. An uncertain answer counts with its mean.
//
// Errors: no name or text; a place in the text, or a name in a hint, for which
// there is no value; a value that is nowhere in the text; two values of one name;
// an answer that fails, or asks for a value that there is none of.
//
// Source: common practice, no published source.
func New(name, text string, answer func(Values) (quantity.Quantity, error), parts ...Part) (Task, error) {
	if answer == nil {
		return Task{}, fmt.Errorf("exercise %q: there is no function that works out the answer", name)
	}
	t := Task{name: name, text: text}
	t.answer = func(v Values) (low, high quantity.Quantity, err error) {
		q, err := answer(v)
		return q, q, err
	}
	return t.with(parts)
}

// NewRange is a task whose answer is right anywhere between two quantities, such
// as an estimate or a size to choose. The rest is as with New.
//
// Units: the ends of the range have one dimension.
//
// Range: the low end is not above the high one.
//
// Errors: those of New, and ends of unlike dimensions or out of order.
//
// Source: common practice, no published source.
func NewRange(name, text string, answer func(Values) (low, high quantity.Quantity, err error), parts ...Part) (Task, error) {
	if answer == nil {
		return Task{}, fmt.Errorf("exercise %q: there is no function that works out the answer", name)
	}
	return Task{name: name, text: text, answer: answer, isRange: true}.with(parts)
}

// with applies the parts, and tries the task once, so that a task with a fault
// does not wait for its first student to show it.
func (t Task) with(parts []Part) (Task, error) {
	if strings.TrimSpace(t.name) == "" || strings.TrimSpace(t.text) == "" {
		return Task{}, fmt.Errorf("an exercise needs a name and a text, and one of them is empty")
	}
	t.tolerance = quantity.Of(1, "%")
	for _, part := range parts {
		if part.apply == nil {
			return Task{}, fmt.Errorf("exercise %q: a part is empty: make parts with Vary, Choose, Within, In, Hint, Mistake or Moisture", t.name)
		}
		if err := part.apply(&t); err != nil {
			return Task{}, fmt.Errorf("exercise %q: %w", t.name, err)
		}
	}
	if err := t.checkNames(); err != nil {
		return Task{}, err
	}
	if _, err := t.Give(0); err != nil {
		return Task{}, err
	}
	return t, nil
}

// braced is where a value may stand in a text; braces behind a command, an index
// or other braces belong to a formula.
var (
	braced  = regexp.MustCompile(`\{([\pL_][\pL\pN_ ]*)\}`)
	formula = regexp.MustCompile(`(?:\\[A-Za-z]+|[_^}])$`)
)

// place is a value's name in a text, with its braces from start to end.
type place struct {
	name       string
	start, end int
}

func placesIn(text string) []place {
	var list []place
	for _, at := range braced.FindAllStringSubmatchIndex(text, -1) {
		if !formula.MatchString(text[:at[0]]) {
			list = append(list, place{text[at[2]:at[3]], at[0], at[1]})
		}
	}
	return list
}

func (t Task) checkNames() error {
	var names []string
	for _, v := range t.varied {
		if slices.Contains(names, v.name) {
			return fmt.Errorf("exercise %q: two values are called %s", t.name, v.name)
		}
		names = append(names, v.name)
	}
	for _, text := range append([]string{t.text}, t.hints...) {
		for _, p := range placesIn(text) {
			if !slices.Contains(names, p.name) {
				return fmt.Errorf("exercise %q: there is no value for {%s}: the values are %s", t.name, p.name, strings.Join(names, ", "))
			}
		}
	}
	for _, name := range names {
		if !slices.ContainsFunc(placesIn(t.text), func(p place) bool { return p.name == name }) {
			return fmt.Errorf("exercise %q: the text has no place {%s}, so nobody would be told that value", t.name, name)
		}
	}
	if t.moisture != "" && !slices.Contains(names, t.moisture) {
		return fmt.Errorf("exercise %q: Moisture names %s, and there is no value of that name", t.name, t.moisture)
	}
	return nil
}

// Name is the task's name.
func (t Task) Name() string { return t.name }

// Within says how near an answer must come: a share such as 2 %, of the answer,
// or an amount of the answer's dimension.
func Within(tolerance quantity.Quantity) Part {
	return Part{func(t *Task) error {
		if !(tolerance.SI() > 0) {
			return fmt.Errorf("an answer must be within something above 0, and Within has %v", tolerance)
		}
		t.tolerance = tolerance
		return nil
	}}
}

// In says in which unit the teacher's sheet shows the answer, and what number a
// student who forgets the unit is taken to mean.
func In(unit string) Part {
	return Part{func(t *Task) error {
		if _, err := quantity.ParseUnit(unit); err != nil {
			return err
		}
		t.unit = unit
		return nil
	}}
}

// Hint adds a hint; they are given in the order in which they are added. {feed}
// stands for the value called feed.
func Hint(text string) Part {
	return Part{func(t *Task) error {
		t.hints = append(t.hints, text)
		return nil
	}}
}

// Mistake adds a way to go wrong: an answer near what the function works out
// gets the comment, such as "That is the yield. Recovery weighs it with the
// grades."
func Mistake(comment string, answer func(Values) (quantity.Quantity, error)) Part {
	return Part{func(t *Task) error {
		if answer == nil {
			return fmt.Errorf("the mistake %q has no function", comment)
		}
		t.mistakes = append(t.mistakes, mistake{comment, answer})
		return nil
	}}
}

// Moisture names the value that is the water's share of the wet mass, so that an
// answer on the wet basis is told from one on the dry.
func Moisture(name string) Part {
	return Part{func(t *Task) error {
		t.moisture = name
		return nil
	}}
}
