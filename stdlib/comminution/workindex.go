package comminution

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

//go:embed workindex.txt
var workIndexText string

// Material is a material with its average work index, in kWh/st as it was printed.
// Ores of one name differ by a third and more: an average serves for a first
// estimate, a test for anything else.
type Material struct {
	Name      string
	WorkIndex quantity.Quantity
	Density   quantity.Quantity // missing, the zero Quantity, for "all materials"
	Source    string
}

// sourceNames is what the letters of workindex.txt stand for.
var sourceNames = map[string]string{
	"B": "F.C. Bond (1961), values from memory",
	"H": "F.C. Bond (1961), values from memory; index also in Geankoplis, example 14.5-1",
	"L": "F.C. Bond (1952) as in McCabe, Smith and Harriott, example 29.1; density from memory",
}

// Materials are all materials of the table, by name.
func Materials() []Material {
	var all []Material
	for line := range strings.Lines(workIndexText) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		fields := strings.Split(line, "|")
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
		index, err := strconv.ParseFloat(fields[1], 64)
		if err != nil {
			panic("comminution: workindex.txt: " + err.Error()) // a test reads all of it
		}
		m := Material{Name: fields[0], WorkIndex: quantity.Of(index, "kWh/st"), Source: sourceNames[fields[3]]}
		if density, err := strconv.ParseFloat(fields[2], 64); err == nil {
			m.Density = quantity.Of(density, "g/cm³")
		}
		all = append(all, m)
	}
	return all
}

// FindMaterial is the material of a name.
//
// Units: the work index in kWh/st; To("kWh/t") tells it per metric tonne. Dry
// grinding takes 1.3 times as much (Duty).
//
// Range: the materials of Materials.
//
// Errors: a name that is not in the table.
//
// Source: as the Source of the Material says.
func FindMaterial(name string) (Material, error) {
	wanted := strings.ToLower(strings.TrimSpace(name))
	var like []string
	for _, m := range Materials() {
		if m.Name == wanted {
			return m, nil
		}
		if wanted != "" && (strings.Contains(m.Name, wanted) || strings.Contains(wanted, m.Name)) {
			like = append(like, m.Name)
		}
	}
	if len(like) > 0 {
		return Material{}, fmt.Errorf("comminution: no work index of %q is known; near to it are %s", name, strings.Join(like, ", "))
	}
	return Material{}, fmt.Errorf("comminution: no work index of %q is known; Materials lists all that are", name)
}

// WorkIndices is the table of all materials, with the index per short ton, as
// printed, beside that per metric tonne.
func WorkIndices() table.Table {
	var names, sources []string
	var short, metric, densities []quantity.Quantity
	for _, m := range Materials() {
		names, sources = append(names, m.Name), append(sources, m.Source)
		short, metric = append(short, m.WorkIndex), append(metric, m.WorkIndex.To("kWh/t"))
		density := m.Density
		if density.IsNothing() {
			density = quantity.Of(nan, "g/cm³")
		}
		densities = append(densities, density)
	}
	t, err := table.New(table.Texts("material", names), table.Quantities("work index per short ton", short),
		table.Quantities("work index per tonne", metric), table.Quantities("density", densities), table.Texts("source", sources))
	if err != nil {
		panic("comminution: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Average work indices after Bond, wet grinding in closed circuit")
}
