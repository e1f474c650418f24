package stream

import (
	"fmt"
	"strings"

	"cobber/stdlib/mineral"
)

// component is something whose mass can be told of every mineral: a mineral, an
// element, or an oxide.
type component struct {
	mineral string          // its name, where it is one
	element string          // else what is counted
	as      mineral.Formula // and as what it is told
}

// findComponent says what a name means beside the given particles: first a
// mineral of theirs, then a formula, then a mineral of the table that they lack.
func findComponent(what string, particles []Particle) (component, error) {
	for _, p := range particles {
		for _, part := range p.Parts {
			if sameMineral(part.Mineral, what) {
				return component{mineral: part.Mineral.Name}, nil
			}
		}
	}
	if m, err := mineral.Find(what); err == nil {
		return component{mineral: m.Name}, nil
	}
	f, err := mineral.ParseFormula(what)
	if err != nil {
		return component{}, fmt.Errorf("stream: %q is neither a mineral here or in the table, nor an element or oxide; here are %s", what, strings.Join(mineralsOf(particles), ", "))
	}
	element, err := counted(f)
	if err != nil {
		return component{}, err
	}
	return component{element: element, as: f}, nil
}

// counted is the one element for which a formula stands.
func counted(f mineral.Formula) (string, error) {
	elements := f.Elements()
	for _, everywhere := range []string{"O", "H"} {
		if len(elements) == 1 {
			break
		}
		for i, symbol := range elements {
			if symbol == everywhere {
				elements = append(elements[:i:i], elements[i+1:]...)
				break
			}
		}
	}
	if len(elements) != 1 {
		return "", fmt.Errorf("stream: %v holds several elements (%s) and is no mineral here; ask for one of them, or for an oxide", f, strings.Join(elements, ", "))
	}
	return elements[0], nil
}

// in is the mass share of the component in a mineral.
func (c component) in(m mineral.Mineral) float64 {
	if c.mineral != "" {
		if m.Name == c.mineral {
			return 1
		}
		return 0
	}
	if m.Formula.Atoms(c.element) == 0 {
		return 0
	}
	in, err := m.Formula.Share(c.element)
	if err != nil {
		return 0
	}
	of, err := c.as.Share(c.element)
	if err != nil {
		return 0
	}
	return in.SI() / of.SI()
}

// mineralsOf are the names of all minerals of some particles, in their order.
func mineralsOf(particles []Particle) []string {
	var names []string
	seen := map[string]bool{}
	for _, p := range particles {
		for _, part := range p.Parts {
			if !seen[part.Mineral.Name] {
				seen[part.Mineral.Name] = true
				names = append(names, part.Mineral.Name)
			}
		}
	}
	return names
}
