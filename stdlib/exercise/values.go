package exercise

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// Values are the numbers of one exercise.
type Values struct {
	names  []string
	values []quantity.Quantity
	fault  *string // the first name that was asked for in vain
}

// Of is the value of that name. A name that there is none of is reported by the
// exercise that asks for it.
func (v Values) Of(name string) quantity.Quantity {
	if i := slices.Index(v.names, name); i >= 0 {
		return v.values[i]
	}
	if v.fault != nil && *v.fault == "" {
		*v.fault = name
	}
	return quantity.Quantity{}
}

// Names lists the values, in the order of the task.
func (v Values) Names() []string { return slices.Clone(v.names) }

// fill puts the values into their places.
func (v Values) fill(text string) string {
	var b strings.Builder
	end := 0
	for _, p := range placesIn(text) {
		b.WriteString(text[end:p.start] + v.Of(p.name).String())
		end = p.end
	}
	return b.String() + text[end:]
}

// varied is a value that is drawn anew for each student.
type varied struct {
	name string
	draw func(*rand.Rand) quantity.Quantity
}

// Vary says that a value lies between low and high, on a step of the given width
// above low, each step as likely as the others. Students get round numbers.
func Vary(name string, low, high, step quantity.Quantity) Part {
	return Part{func(t *Task) error {
		unit := low.Unit()
		top, err1 := high.InUnit(unit)
		width, err2 := step.InUnit(unit)
		if err1 != nil || err2 != nil {
			return fmt.Errorf("%s varies from %v to %v in steps of %v, which are not of one dimension", name, low, high, step)
		}
		if !(width.Shown() > 0) || top.Shown() < low.Shown() {
			return fmt.Errorf("%s varies from %v to %v in steps of %v: the steps must be above 0 and lead upward", name, low, high, step)
		}
		span := (top.Shown() - low.Shown()) / width.Shown()
		if span > 1e6 || math.IsNaN(span) {
			return fmt.Errorf("%s varies from %v to %v in steps of %v, which are more than a million", name, low, high, step)
		}
		count := int(span+1e-9) + 1
		t.varied = append(t.varied, varied{name, func(r *rand.Rand) quantity.Quantity {
			return unit.Quantity(onStep(low.Shown(), width.Shown(), r.IntN(count)))
		}})
		return nil
	}}
}

// onStep is low + n·width without the dust of binary fractions: 0.1 and 0.2
// make 0.3.
func onStep(low, width float64, n int) float64 {
	x := low + float64(n)*width
	scale := math.Pow(10, 12-math.Ceil(math.Log10(math.Max(math.Abs(x), width))))
	return math.Round(x*scale) / scale
}

// Choose says that a value is one of those listed. With a single one it is the
// same for all.
func Choose(name string, values ...quantity.Quantity) Part {
	return Part{func(t *Task) error {
		if len(values) == 0 {
			return fmt.Errorf("%s has nothing to choose from", name)
		}
		values := slices.Clone(values)
		t.varied = append(t.varied, varied{name, func(r *rand.Rand) quantity.Quantity { return values[r.IntN(len(values))] }})
		return nil
	}}
}

// hash makes a seed of a text, the same on every machine.
func hash(text string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(text))
	return h.Sum64()
}

// Give is the exercise for a seed.
//
// Units: seed is any number; the same one gives the same values.
//
// Range: every seed.
//
// Errors: an answer that cannot be worked out for these values, is not a finite
// number, or asks for a value that there is none of.
//
// Source: the generator is PCG, M.E. O'Neill, HMC-CS-2014-0905, as in Go's
// math/rand/v2.
func (t Task) Give(seed uint64) (Exercise, error) {
	random := rand.New(rand.NewPCG(seed, hash(t.name)))
	v := Values{fault: new(string)}
	for _, one := range t.varied {
		v.names, v.values = append(v.names, one.name), append(v.values, one.draw(random))
	}
	e := Exercise{task: t, values: v}
	var err error
	if e.low, e.high, err = t.work(v); err != nil {
		return Exercise{}, err
	}
	for _, m := range t.mistakes {
		wrong, err := m.answer(v)
		if err == nil && *v.fault != "" {
			err = v.unknown()
		}
		if err != nil {
			return Exercise{}, fmt.Errorf("exercise %q, the mistake %q: %w", t.name, m.comment, err)
		}
		e.wrong = append(e.wrong, wrong)
	}
	return e, nil
}

// GiveTo is the exercise of a student: the name is the seed, whatever its case
// and the blanks around it. The rest is as with Give.
//
// Units: student is a name.
//
// Range: every name that is not empty.
//
// Errors: those of Give, and an empty name.
//
// Source: common practice, no published source.
func (t Task) GiveTo(student string) (Exercise, error) {
	name := strings.ToLower(strings.Join(strings.Fields(student), " "))
	if name == "" {
		return Exercise{}, fmt.Errorf("exercise %q: the student's name is empty, and the numbers follow from it", t.name)
	}
	return t.Give(hash(name))
}

// work works out the answer.
func (t Task) work(v Values) (low, high quantity.Quantity, err error) {
	low, high, err = t.answer(v)
	if err == nil && *v.fault != "" {
		err = v.unknown()
	}
	if err == nil && (isNoNumber(low) || isNoNumber(high)) {
		err = fmt.Errorf("the answer is no finite number")
	}
	if err == nil && !low.Dimension().Equal(high.Dimension()) {
		err = fmt.Errorf("the answer reaches from %v to %v, which are not of one dimension", low, high)
	}
	if err == nil && high.Less(low) {
		err = fmt.Errorf("the answer reaches from %v down to %v: give the low end first", low, high)
	}
	if err == nil && t.unit != "" {
		if low, err = low.In(t.unit); err == nil {
			high, err = high.In(t.unit)
		}
	}
	if err == nil && !t.tolerance.Dimension().IsOne() && !t.tolerance.Dimension().Equal(low.Dimension()) {
		err = fmt.Errorf("an answer in %v cannot be within %v", low.Unit(), t.tolerance)
	}
	if err != nil {
		err = fmt.Errorf("exercise %q: %w", t.name, err)
	}
	return low, high, err
}

func (v Values) unknown() error {
	return fmt.Errorf("it asks for the value %s, which is none of %s", *v.fault, strings.Join(v.names, ", "))
}

func isNoNumber(q quantity.Quantity) bool {
	return q.IsNaN() || math.IsInf(q.SI(), 0)
}
