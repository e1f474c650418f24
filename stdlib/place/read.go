package place

import (
	_ "embed"
	"fmt"
	"strings"

	"cobber/stdlib/quantity"
)

//go:embed places.txt
var placesText string

//go:embed gases.txt
var gasesText string

var (
	gases = readGases(gasesText)
	known = readPlaces(placesText)
)

// lines are the fields of each line that is no comment.
func lines(text string, fields int) [][]string {
	var read [][]string
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, " | ")
		if len(parts) != fields {
			panic(fmt.Sprintf("place: a line of the embedded table has %d fields: %q", len(parts), line))
		}
		read = append(read, parts)
	}
	return read
}

// embedded is a quantity of an embedded table, which the tests read whole.
func embedded(text string) quantity.Quantity {
	q, err := quantity.Parse(text)
	if err != nil {
		panic(fmt.Sprintf("place: embedded table: %q: %v", text, err))
	}
	return q
}

func readGases(text string) map[string]species {
	read := map[string]species{}
	for _, f := range lines(text, 6) {
		read[f[0]] = species{
			molar: embedded(f[1]).SI(), viscosity: embedded(f[2]).SI(),
			at: embedded(f[3]).SI(), sutherland: embedded(f[4]).SI(), source: f[5],
		}
	}
	return read
}

func readPlaces(text string) []Place {
	var places []Place
	var read map[string]quantity.Quantity
	finish := func() {
		if len(places) > 0 {
			places[len(places)-1].complete(read)
		}
	}
	for _, f := range lines(text, 4) {
		if len(places) == 0 || places[len(places)-1].Name != f[0] {
			finish()
			places, read = append(places, Place{Name: f[0]}), map[string]quantity.Quantity{}
		}
		p := &places[len(places)-1]
		p.figures = append(p.figures, Figure{f[1], f[2], f[3]})
		if f[1] == "gas" {
			p.Gas = embeddedGas(f[2])
		} else {
			read[f[1]] = embedded(f[2])
		}
	}
	finish()
	return places
}

// complete works out what follows from the figures read.
func (p *Place) complete(read map[string]quantity.Quantity) {
	body, err := Body(p.Name, read["pull"], read["radius"])
	if err != nil {
		panic(err.Error())
	}
	p.Gravity, p.Escape = body.Gravity, body.Escape
	if agreed, ok := read["gravity"]; ok {
		p.Gravity = agreed
	}
	if p.Day, err = Day(read["rotation"], read["year"]); err != nil {
		panic(err.Error())
	}
	if p.Sunlight, err = Sunlight(read["distance"]); err != nil {
		panic(err.Error())
	}
	p.Pressure, p.Coldest, p.Mean, p.Warmest = read["pressure"], read["coldest"], read["mean"], read["warmest"]
}

func embeddedGas(text string) Gas {
	var parts []Part
	for part := range strings.SplitSeq(text, ", ") {
		formula, share, _ := strings.Cut(part, " ")
		parts = append(parts, Part{formula, embedded(share)})
	}
	gas, err := NewGas(parts...)
	if err != nil {
		panic(err.Error())
	}
	return gas
}
