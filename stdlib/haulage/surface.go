package haulage

import (
	_ "embed"
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

//go:embed surfaces.txt
var surfacesText string

// Surface is what vehicles roll on, with the share of the weight on the wheels
// that rolling takes.
type Surface struct {
	Name               string
	Least, Usual, Most quantity.Quantity // plain numbers
	Source             string
}

var surfaces = readSurfaces(surfacesText)

func readSurfaces(text string) []Surface {
	var read []Surface
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, " | ")
		if len(f) != 5 {
			panic("haulage: embedded table: " + line)
		}
		s := Surface{Name: f[0], Source: f[4]}
		for k, into := range []*quantity.Quantity{&s.Least, &s.Usual, &s.Most} {
			q, err := quantity.Parse(f[k+1])
			if err != nil {
				panic("haulage: embedded table: " + line)
			}
			*into = q
		}
		read = append(read, s)
	}
	return read
}

// FindSurface is a surface of the table by its name, or by a word of it that no
// other has.
//
// Units: plain numbers, shares of the weight.
//
// Range: tyres on roads, steel on rails, on the Earth. That the share stays the
// same where weights are less is common practice, not measured: soil gives way
// less under less weight, but packs less firmly too.
//
// Errors: a name that none or several surfaces have, with those there are.
//
// Source: beside each figure; Surfaces shows them.
func FindSurface(name string) (Surface, error) {
	var found []Surface
	var names []string
	for _, s := range surfaces {
		names = append(names, s.Name)
		if s.Name == name {
			return s, nil
		}
		if name != "" && strings.Contains(s.Name, name) {
			found = append(found, s)
		}
	}
	if len(found) != 1 {
		return Surface{}, fmt.Errorf("haulage: %q names %d surfaces; there are %s", name, len(found), strings.Join(names, "; "))
	}
	return found[0], nil
}

// Surfaces is the table of surfaces with the source of each figure.
func Surfaces() table.Table {
	var names, sources []string
	var least, usual, most []quantity.Quantity
	for _, s := range surfaces {
		names, sources = append(names, s.Name), append(sources, s.Source)
		least, usual, most = append(least, s.Least), append(usual, s.Usual), append(most, s.Most)
	}
	return tabled("Rolling resistance as a share of the weight", table.Texts("surface", names), table.Quantities("least", least),
		table.Quantities("usual", usual), table.Quantities("most", most), table.Texts("source", sources))
}

// tabled is a table whose columns are of one length, which table.New accepts.
func tabled(caption string, columns ...table.Column) table.Table {
	made, err := table.New(columns...)
	if err != nil {
		panic("haulage: " + err.Error())
	}
	return made.Caption(caption)
}

// Sinking is the rolling resistance of tyres that sink in, as a share of the
// weight:
//
//	0.02 + 0.015·z/in
//
// Units: a depth; the result a plain number.
//
// Range: heavy tyres on soil, to some 250 mm, on the Earth.
//
// Errors: what is no length from 0 to 250 mm.
//
// Source: 40 lb/ton and 30 lb/ton for each inch: S.W. Nunnally, Construction
// Methods and Management; the same rule in course sheets.
func Sinking(depth quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(depth, "mm", "depth of sinking", 0, 250); err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Number(0.02).Add(depth.Mul(quantity.Of(0.015, "1/in")).To("1")), nil
}

// number is the number of a quantity in a unit, within bounds.
func number(q quantity.Quantity, unit, what string, low, high float64) (float64, error) {
	x, err := q.Value(unit)
	if err != nil {
		return 0, fmt.Errorf("haulage: %s: %v is none; give one as in %s", what, q, shown(unit))
	}
	if !(x >= low && x <= high) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("haulage: %s is %v, outside %s", what, q, bounds(low, high, unit))
	}
	return x, nil
}

func shown(unit string) string {
	if unit == "1" {
		return "a plain number or %"
	}
	return unit
}

func bounds(low, high float64, unit string) string {
	if unit == "1" {
		unit = ""
	}
	if math.IsInf(high, 0) {
		if low == least {
			return "what is allowed: above 0"
		}
		return strings.TrimSpace(fmt.Sprintf("what is allowed: from %.4g %s", low, unit))
	}
	if low == least {
		return strings.TrimSpace(fmt.Sprintf("what is allowed: above 0, to %.4g %s", high, unit))
	}
	return strings.TrimSpace(fmt.Sprintf("%.4g to %.4g %s", low, high, unit))
}

var infinite = math.Inf(1)

// least stands for bounds that 0 itself is outside of.
const least = math.SmallestNonzeroFloat64

// gravityOf is a gravity, the Earth's if none is given.
func gravityOf(g quantity.Quantity) (float64, error) {
	if g.IsNothing() {
		return 9.80665, nil
	}
	return number(g, "m/s²", "gravity", least, infinite)
}

// through carries uncertainty through f. What comes out without a spread, since
// nothing uncertain reaches it, is certain.
func through(f func(arguments []quantity.Quantity) (quantity.Quantity, error), arguments ...quantity.Quantity) (quantity.Quantity, error) {
	q, err := quantity.Through(f, arguments...)
	if err == nil && q.IsUncertain() && q.StdDev().SI() <= 1e-12*math.Abs(q.SI()) {
		return q.Certain(), nil
	}
	return q, err
}
