package rewrite

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/stdlib/quantity"
)

// A made expression: its text, and what it gives when it runs. It panics where
// the arithmetic of package quantity does.
type made struct {
	text string
	run  func() quantity.Quantity
}

// maker makes cells of quantities, right ones and wrong ones.
type maker struct {
	random *rand.Rand
	lines  []string
	names  []string
	values map[string]func() quantity.Quantity
}

var someUnits = []string{"t", "kg", "h", "min", "t/h", "kW", "kWh", "%", "m"}

func (m *maker) pick(list []string) string { return list[m.random.IntN(len(list))] }

func (m *maker) expression(depth int) made {
	if depth == 0 || m.random.IntN(5) == 0 {
		return m.leaf()
	}
	a, b := m.expression(depth-1), m.expression(depth-1)
	switch m.random.IntN(9) {
	case 0, 1:
		return made{"(" + a.text + " + " + b.text + ")", func() quantity.Quantity { return a.run().Add(b.run()) }}
	case 2:
		return made{"(" + a.text + " - " + b.text + ")", func() quantity.Quantity { return a.run().Sub(b.run()) }}
	case 3, 4:
		return made{"(" + a.text + " * " + b.text + ")", func() quantity.Quantity { return a.run().Mul(b.run()) }}
	case 5:
		return made{"(" + a.text + " / " + b.text + ")", func() quantity.Quantity { return a.run().Div(b.run()) }}
	case 6:
		return made{"max(" + a.text + ", " + b.text + ")", func() quantity.Quantity { return quantity.Max(a.run(), b.run()) }}
	case 7:
		unit := m.pick(someUnits)
		return made{a.text + ".To(" + fmt.Sprintf("%q", unit) + ")", func() quantity.Quantity { return a.run().To(unit) }}
	}
	return made{"quantity.Sum(" + a.text + ", " + b.text + ")", func() quantity.Quantity { return quantity.Sum(a.run(), b.run()) }}
}

func (m *maker) leaf() made {
	if len(m.names) > 0 && m.random.IntN(2) == 0 {
		name := m.pick(m.names)
		return made{name, m.values[name]}
	}
	number, unit := float64(m.random.IntN(3)), m.pick(someUnits)
	return made{fmt.Sprintf("%g`%s`", number, unit), func() quantity.Quantity { return quantity.Of(number, unit) }}
}

// bind adds a statement that gives a name a value, in one of several forms.
func (m *maker) bind() {
	name := fmt.Sprintf("v%d", len(m.names))
	x := m.expression(2)
	value := x.run
	switch m.random.IntN(6) {
	case 0:
		m.lines = append(m.lines, "var "+name+" quantity.Quantity")
		value = func() quantity.Quantity { return quantity.Quantity{} }
	case 1:
		y := m.expression(1)
		m.lines = append(m.lines, fmt.Sprintf("s%s := []quantity.Quantity{%s, %s}", name, x.text, y.text), name+" := s"+name+"[0]")
		value = func() quantity.Quantity { y.run(); return x.run() }
	case 2:
		m.lines = append(m.lines, fmt.Sprintf("func f%s(a, b quantity.Quantity) quantity.Quantity { return a * b }", name),
			fmt.Sprintf("%s := f%s(%s, 2`h`)", name, name, x.text))
		value = func() quantity.Quantity { return x.run().Mul(quantity.Of(2, "h")) }
	case 3:
		m.lines = append(m.lines, fmt.Sprintf("type t%s struct{ a, b quantity.Quantity }\nr%s := t%s{b: %s}", name, name, name, x.text), name+" := r"+name+".b")
	case 4:
		unit := m.pick(someUnits)
		m.lines = append(m.lines, fmt.Sprintf("%s, e%s := %s.In(%q)", name, name, x.text, unit))
		value = func() quantity.Quantity { q, _ := x.run().In(unit); return q }
	default:
		m.lines = append(m.lines, name+" := "+x.text)
	}
	m.names = append(m.names, name)
	m.values[name] = value
}

func (m *maker) panics() (panics bool) {
	defer func() { panics = recover() != nil }()
	for _, name := range m.names {
		m.values[name]()
	}
	return false
}

// A cell is refused for its dimensions only if it fails when it runs.
func TestDimensionErrorsAreCertain(t *testing.T) {
	s := newSession()
	random := rand.New(rand.NewPCG(7, 20))
	refused, failing := 0, 0
	for range 3000 {
		m := &maker{random: random, values: map[string]func() quantity.Quantity{}}
		for range 1 + random.IntN(4) {
			m.bind()
		}
		text := strings.Join(m.lines, "\n")
		_, err := s.check(text)
		var list diag.List
		if err != nil && (!errors.As(err, &list) || list[0].Code != "dimension") {
			t.Fatalf("%s\n%v", text, err)
		}
		fails := m.panics()
		if fails {
			failing++
		}
		if err != nil {
			refused++
			if !fails {
				t.Fatalf("refused, and it would run:\n%s\n%v", text, err)
			}
		}
	}
	t.Logf("of %d cells that fail %d are refused before they run", failing, refused)
	if refused*10 < failing*9 {
		t.Errorf("of %d cells that fail only %d are refused before they run", failing, refused)
	}
}
