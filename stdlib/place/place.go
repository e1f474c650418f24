package place

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Place is where a plant stands. Fill in one of your own, or begin with a known
// one and change what differs: a place is a plain value.
type Place struct {
	Name     string
	Gravity  quantity.Quantity // at the surface
	Pressure quantity.Quantity // of the gas; nothing or 0 in a vacuum
	Gas      Gas
	Coldest  quantity.Quantity // of the surface; nothing where nobody states it
	Mean     quantity.Quantity
	Warmest  quantity.Quantity
	Day      quantity.Quantity // from noon to noon
	Sunlight quantity.Quantity // above any gas, facing the sun, at the mean distance
	Escape   quantity.Quantity // speed that leaves the body
	figures  []Figure
}

// Figure is one published figure that a known place rests on.
type Figure struct {
	Name   string
	Value  string // with its unit, as published
	Source string
}

// SolarConstant is the sunlight at one astronomical unit: 1361 W/m² (G. Kopp,
// J.L. Lean, Geophys. Res. Lett. 38 (2011) L01706: 1360.8 ± 0.5 W/m²).
func SolarConstant() quantity.Quantity { return quantity.Of(1361, "W/m²") }

// Named is a known place by its name, small or capital letters alike.
//
// Units: gravity in m/s², pressure in Pa, temperatures in K, the day in h,
// sunlight in W/m², the speed of escape in km/s.
//
// Range: mean figures of the whole body; see the package.
//
// Errors: a name that is not known, with those that are.
//
// Source: beside each figure; see Figures.
func Named(name string) (Place, error) {
	for _, p := range known {
		if strings.EqualFold(p.Name, name) {
			return p.copied(), nil
		}
	}
	return Place{}, fmt.Errorf("place: %q is not known; known are %s. Fill in a Place for one of your own", name, strings.Join(Names(), ", "))
}

func (p Place) copied() Place {
	p.Gas.parts, p.figures = slices.Clone(p.Gas.parts), slices.Clone(p.figures)
	return p
}

// Names are the names of the known places.
func Names() []string {
	names := make([]string, len(known))
	for i, p := range known {
		names[i] = p.Name
	}
	return names
}

// Known are all known places.
func Known() []Place {
	places := make([]Place, len(known))
	for i, p := range known {
		places[i] = p.copied()
	}
	return places
}

// must is a place of the embedded table, which a test reads whole.
func must(name string) Place {
	p, err := Named(name)
	if err != nil {
		panic(err.Error())
	}
	return p
}

// Earth is the Earth at sea level in the standard atmosphere.
func Earth() Place { return must("Earth") }

// Moon is the Moon, temperatures at the equator.
func Moon() Place { return must("Moon") }

// Mars is Mars at its mean radius.
func Mars() Place { return must("Mars") }

// Body is the bare place on a body of one's own: gravity and speed of escape by
//
//	g = GM/R²,  v = √(2·GM/R)
//
// Units: pull is the gravitational parameter GM, as in km³/s², or a mass, which
// is multiplied by G; radius a length; gravity in m/s², escape in km/s.
//
// Range: round bodies that turn slowly. A body's radius is the mean one; where it
// is long rather than round, gravity differs from end to side.
//
// Errors: quantities of another kind or not above 0.
//
// Source: Newton's law; G of CODATA 2018, 6.67430e-11 m³/(kg·s²).
func Body(name string, pull, radius quantity.Quantity) (Place, error) {
	if pull.Dimension() == quantity.Of(1, "kg").Dimension() {
		pull = pull.Mul(quantity.Of(6.67430e-11, "m³/(kg·s²)"))
	}
	if x, err := pull.Value("m³/s²"); err != nil || !(x > 0) || math.IsInf(x, 0) {
		return Place{}, fmt.Errorf("place: the pull of %s is a mass or GM, above 0, and %v is not", name, pull)
	}
	if x, err := radius.Value("m"); err != nil || !(x > 0) || math.IsInf(x, 0) {
		return Place{}, fmt.Errorf("place: the radius of %s is a length above 0, and %v is not", name, radius)
	}
	two := quantity.Number(2)
	return Place{
		Name:    name,
		Gravity: pull.Div(radius).Div(radius).To("m/s²"),
		Escape:  pull.Mul(two).Div(radius).Sqrt().To("km/s"),
	}, nil
}

// Sunlight is the sunlight at a distance from the sun:
//
//	S = 1361 W/m²/(d/au)²
//
// Units: a length; the result in W/m².
//
// Range: outside any gas, facing the sun.
//
// Errors: what is no length above 0.
//
// Source: the inverse square of distance; SolarConstant.
func Sunlight(distance quantity.Quantity) (quantity.Quantity, error) {
	if x, err := distance.Value("au"); err != nil || !(x > 0) {
		return quantity.Quantity{}, fmt.Errorf("place: a distance from the sun is a length above 0, and %v is not", distance)
	}
	ratio := distance.Div(quantity.Of(1, "au"))
	return SolarConstant().Div(ratio.Mul(ratio)).To("W/m²"), nil
}

// Day is the day from noon to noon of a body that turns and goes round the sun:
//
//	1/day = |1/rotation − 1/year|
//
// Units: two times; rotation against the stars, below 0 where it runs against the
// orbit; the result in h.
//
// Range: circular orbits; elsewhere it is the mean day.
//
// Errors: what is no time; a rotation of 0; a year not above 0; a body that
// always shows the sun one side, and so has no day.
//
// Source: the synodic period, as in any astronomy text.
func Day(rotation, year quantity.Quantity) (quantity.Quantity, error) {
	turn, err := rotation.Value("h")
	if err != nil || turn == 0 || math.IsNaN(turn) {
		return quantity.Quantity{}, fmt.Errorf("place: a rotation is a time other than 0, and %v is not", rotation)
	}
	round, err := year.Value("h")
	if err != nil || !(round > 0) {
		return quantity.Quantity{}, fmt.Errorf("place: a year is a time above 0, and %v is not", year)
	}
	if turn == round {
		return quantity.Quantity{}, fmt.Errorf("place: a body that turns once a year (%v) always shows the sun one side", year)
	}
	one := quantity.Number(1)
	return one.Div(one.Div(rotation).Sub(one.Div(year)).Abs()).To("h"), nil
}

// IsVacuum reports whether there is no gas.
func (p Place) IsVacuum() bool { return p.Pressure.SI() == 0 }

// Figures are the published figures that a known place rests on; none for a
// place of one's own.
func (p Place) Figures() table.Table {
	var names, values, sources []string
	for _, f := range p.figures {
		names, values, sources = append(names, f.Name), append(values, f.Value), append(sources, f.Source)
	}
	return tabled(p.Name+": figures and their sources", table.Texts("figure", names), table.Texts("value", values), table.Texts("source", sources))
}

// Table is what the place is like.
func (p Place) Table() table.Table {
	var names, values []string
	for _, row := range []struct {
		name  string
		value quantity.Quantity
	}{{"gravity", p.Gravity}, {"pressure", p.Pressure}, {"coldest", p.Coldest}, {"mean temperature", p.Mean}, {"warmest", p.Warmest},
		{"day", p.Day}, {"sunlight", p.Sunlight}, {"speed of escape", p.Escape}} {
		text := "not stated"
		switch {
		case !row.value.IsNothing():
			text = row.value.String()
		case row.name == "pressure":
			text = "vacuum"
		}
		names, values = append(names, row.name), append(values, text)
	}
	if !p.IsVacuum() {
		names, values = append(names, "gas"), append(values, p.Gas.String())
	}
	return tabled(p.Name, table.Texts("figure", names), table.Texts("value", values))
}

// tabled is a table whose columns are of one length, which table.New accepts.
func tabled(caption string, columns ...table.Column) table.Table {
	made, err := table.New(columns...)
	if err != nil {
		panic("place: " + err.Error())
	}
	return made.Caption(caption)
}

// String is Table as text.
func (p Place) String() string { return p.Table().String() }

// HTML is Table as HTML.
func (p Place) HTML() string { return p.Table().HTML() }

// Markdown is Table as Markdown.
func (p Place) Markdown() string { return p.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (p Place) LaTeX() string { return p.Table().LaTeX() }
