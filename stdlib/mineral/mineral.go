package mineral

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

//go:embed minerals.txt
var mineralsText string

// Mineral is what is known of one mineral. A figure or behaviour for which no
// source was at hand is missing, not 0.
type Mineral struct {
	Name           string
	Formula        Formula   // ideal; natural minerals vary
	Density        Figure    // mass per volume
	Hardness       Figure    // on Mohs's scale, 1 to 10
	Susceptibility Figure    // magnetic susceptibility per volume, SI, a plain number
	WorkIndex      Figure    // Bond's, energy per mass; of ores named after the mineral
	Magnetism      Behaviour // diamagnetic, paramagnetic, antiferromagnetic, ferrimagnetic or ferromagnetic
	Conductivity   Behaviour // conductor or non-conductor on a high-tension separator
	names          []string
}

// Figure is a published figure with its spread.
type Figure struct {
	Low, High quantity.Quantity // equal where no spread was published
	Source    string            // empty if the figure is missing
}

// Behaviour is a class into which a source puts a mineral.
type Behaviour struct {
	Class  string // empty if missing
	Source string
}

// Known reports whether there is a figure.
func (f Figure) Known() bool { return f.Source != "" }

// Spread reports whether the figure is a range.
func (f Figure) Spread() bool { return f.Known() && f.Low.Less(f.High) }

// Middle is the middle of the range, for a first estimate.
//
// Units: those of the figure.
//
// Range: the middle of a range says nothing of what is likely in it.
//
// Errors: the figure is missing.
//
// Source: that of the figure.
func (f Figure) Middle() (quantity.Quantity, error) {
	if !f.Known() {
		return quantity.Quantity{}, fmt.Errorf("mineral: there is no figure with a source for this; measure it or name your own")
	}
	return f.Low.Add(f.High).Mul(quantity.Number(0.5)), nil
}

// Uncertain is the figure as an uncertain quantity, uniform over its range, and
// certain where no spread was published.
//
// Units: those of the figure.
//
// Range: as Middle.
//
// Errors: the figure is missing.
//
// Source: that of the figure; the uniform distribution is an assumption.
func (f Figure) Uncertain() (quantity.Quantity, error) {
	if !f.Spread() {
		return f.Middle()
	}
	return quantity.Uniform(f.Low, f.High)
}

// String is the figure as value or range, "–" if it is missing.
func (f Figure) String() string {
	switch {
	case !f.Known():
		return "–"
	case !f.Spread():
		return f.Low.String()
	}
	unit := f.High.Unit().String()
	low := strings.TrimSpace(strings.TrimSuffix(f.Low.String(), unit))
	return low + " to " + f.High.String()
}

// String is the class, "–" if it is missing.
func (b Behaviour) String() string {
	if b.Class == "" {
		return "–"
	}
	return b.Class
}

// MassSusceptibility is the magnetic susceptibility per mass, χ = κ/ρ.
//
// Units: a volume per mass, in m³/kg.
//
// Range: low over high density to high over low density, or the reverse where κ
// is below 0.
//
// Errors: the susceptibility or the density is missing.
//
// Source: the definition; the sources of both figures.
func (m Mineral) MassSusceptibility() (Figure, error) {
	if !m.Susceptibility.Known() || !m.Density.Known() {
		return Figure{}, fmt.Errorf("mineral: %s lacks a susceptibility or a density with a source", m.Name)
	}
	ends := []quantity.Quantity{}
	for _, kappa := range []quantity.Quantity{m.Susceptibility.Low, m.Susceptibility.High} {
		for _, rho := range []quantity.Quantity{m.Density.Low, m.Density.High} {
			ends = append(ends, kappa.Div(rho).To("m3/kg"))
		}
	}
	low := slices.MinFunc(ends, quantity.Quantity.Compare)
	high := slices.MaxFunc(ends, quantity.Quantity.Compare)
	return Figure{low, high, m.Susceptibility.Source + "; " + m.Density.Source}, nil
}

// minerals reads the table when it is first asked for, which keeps it out of the
// start of every session.
var minerals = sync.OnceValue(readMinerals)

// Minerals are all minerals of the table, in its order: oxides, silicates and
// other salts, sulphides, elements.
func Minerals() []Mineral { return slices.Clone(minerals()) }

// Find is the mineral of a name, such as ilmenite.
//
// Units: as Mineral says.
//
// Range: the minerals of Minerals.
//
// Errors: a name that the table lacks, with the nearest ones.
//
// Source: each figure states its own.
func Find(name string) (Mineral, error) {
	wanted := strings.ToLower(strings.TrimSpace(name))
	for _, m := range minerals() {
		if slices.Contains(m.names, wanted) {
			return m, nil
		}
	}
	return Mineral{}, fmt.Errorf("mineral: no mineral %q in the table; the nearest names are %s; any formula serves as well", name, strings.Join(nearestNames(wanted), ", "))
}

func nearestNames(wanted string) []string {
	var names []string
	for _, m := range minerals() {
		names = append(names, m.names...)
	}
	slices.SortStableFunc(names, func(a, b string) int { return distance(a, wanted) - distance(b, wanted) })
	return names[:3]
}

// distance is the number of letters to put in, take out or change.
func distance(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j := range to {
			cost := diagonal
			if from[i] != to[j] {
				cost = 1 + min(diagonal, row[j], row[j+1])
			}
			diagonal, row[j+1] = row[j+1], cost
		}
	}
	return row[len(to)]
}

// Table is what is known of minerals, each figure with its range.
func Table(all []Mineral) table.Table {
	columns := make([][]string, 8)
	for _, m := range all {
		for i, text := range []string{m.Name, m.Formula.String(), m.Density.String(), m.Hardness.String(),
			m.Susceptibility.String(), m.Magnetism.String(), m.Conductivity.String(), m.WorkIndex.String()} {
			columns[i] = append(columns[i], text)
		}
	}
	heads := []string{"mineral", "formula", "density", "Mohs hardness", "susceptibility (volume, SI)", "magnetism", "high tension", "Bond work index"}
	var out []table.Column
	for i, head := range heads {
		out = append(out, table.Texts(head, columns[i]))
	}
	return mustTable(out...)
}

// Sheet is one mineral as a table: property, figure and source.
func (m Mineral) Sheet() table.Table {
	rows := [][3]string{
		{"density", m.Density.String(), m.Density.Source},
		{"hardness (Mohs)", m.Hardness.String(), m.Hardness.Source},
		{"susceptibility (volume, SI)", m.Susceptibility.String(), m.Susceptibility.Source},
		{"magnetism", m.Magnetism.String(), m.Magnetism.Source},
		{"high-tension separator", m.Conductivity.String(), m.Conductivity.Source},
		{"Bond work index", m.WorkIndex.String(), m.WorkIndex.Source},
	}
	columns := make([][]string, 3)
	for _, row := range rows {
		for i := range columns {
			columns[i] = append(columns[i], row[i])
		}
	}
	return mustTable(table.Texts("property", columns[0]), table.Texts("figure", columns[1]), table.Texts("source", columns[2])).
		Caption(m.Name + ", " + m.Formula.String())
}

// String is Sheet as text.
func (m Mineral) String() string { return m.Sheet().String() }

// HTML is Sheet as HTML.
func (m Mineral) HTML() string { return m.Sheet().HTML() }

// Markdown is Sheet as Markdown.
func (m Mineral) Markdown() string { return m.Sheet().Markdown() }

// LaTeX is Sheet as LaTeX.
func (m Mineral) LaTeX() string { return m.Sheet().LaTeX() }

func readMinerals() []Mineral {
	var all []Mineral
	sources := map[string]string{}
	for line := range strings.Lines(mineralsText) {
		line = strings.TrimSpace(line)
		if rest, ok := strings.CutPrefix(line, "#  "); ok {
			code, source, _ := strings.Cut(rest, "  ")
			sources[code] = strings.Replace(source, "(M)", "(from memory)", 1)
		}
		if line == "" || line[0] == '#' {
			continue
		}
		all = append(all, readMineral(line, sources))
	}
	return all
}

func readMineral(line string, sources map[string]string) Mineral {
	fields := strings.Split(line, "|")
	if len(fields) != 8 {
		panic("mineral: minerals.txt: " + line)
	}
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	names := strings.Split(fields[0], ", ")
	m := Mineral{Name: names[0], names: names, Formula: Must(ParseFormula(fields[1]))}
	m.Density = readFigure(fields[2], "g/cm3", 1, sources)
	m.Hardness = readFigure(fields[3], "", 1, sources)
	m.Susceptibility = readFigure(fields[4], "", 1e-6, sources)
	m.Magnetism = readBehaviour(fields[5], sources)
	m.Conductivity = readBehaviour(fields[6], sources)
	m.WorkIndex = readFigure(fields[7], "kWh/st", 1, sources)
	return m
}

func readBehaviour(field string, sources map[string]string) Behaviour {
	text, source := withSource(field, sources)
	return Behaviour{text, source}
}

// withSource parts a field into its text and the source that its code names.
func withSource(field string, sources map[string]string) (text, source string) {
	if field == "" {
		return "", ""
	}
	text, code, found := strings.Cut(field, " [")
	source, known := sources[strings.TrimSuffix(code, "]")]
	if !found || !known {
		panic("mineral: minerals.txt: no source: " + field)
	}
	return text, source
}

func readFigure(field, unit string, scale float64, sources map[string]string) Figure {
	text, source := withSource(field, sources)
	if source == "" {
		return Figure{}
	}
	low, high, isRange := strings.Cut(text, "..")
	if !isRange {
		high = low
	}
	read := func(text string) quantity.Quantity {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic("mineral: minerals.txt: " + field)
		}
		if scale != 1 {
			x = math.Round(x*1e3) / (1e3 / scale)
		}
		if unit == "" {
			return quantity.Number(x)
		}
		return quantity.Of(x, unit)
	}
	return Figure{read(low), read(high), source}
}
