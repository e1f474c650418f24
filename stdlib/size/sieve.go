package size

import (
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// Sieve is one standard test sieve.
type Sieve struct {
	Opening     quantity.Quantity // width of the square opening, shown in mm from 1 mm up, else in µm
	Designation string            // the ASTM E11 name, "#200" or "3/8 in", or the Tyler one, "Tyler 65 mesh"; empty if it has neither
}

// String is the opening, and the name where there is one: "75 µm (#200)".
func (s Sieve) String() string {
	if s.Designation == "" {
		return s.Opening.String()
	}
	return s.Opening.String() + " (" + s.Designation + ")"
}

// SeriesNames are the names that Series knows.
func SeriesNames() []string { return []string{"R20/3", "R40/3", "R20", "R'10", "ASTM E11", "Tyler"} }

// Series is a standard series of sieves, coarsest first: "R20/3", "R40/3" or
// "R20" of ISO 565, its fine end "R'10", "ASTM E11", or the old "Tyler" scale.
//
// Units: openings are lengths.
//
// Range: 125 mm to 45 µm (R20/3), 38 µm (R40/3), 36 µm (R20), 20 µm (ASTM E11);
// 32 to 20 µm (R'10); 7.925 mm to 38 µm (Tyler). Finer sieves are electroformed
// and not here.
//
// Errors: a name that is none of SeriesNames.
//
// Source: ISO 565:1990, ISO 3310-1, ASTM E11. The Tyler openings are those of
// W.L. McCabe, J.C. Smith, P. Harriott, Unit Operations of Chemical Engineering,
// as far as its examples print them, and of the same table from memory; those below
// 200 mesh and R'10 are from memory.
func Series(name string) ([]Sieve, error) {
	var openings []float64
	switch name {
	case "R20/3":
		openings = isoR20by3
	case "R40/3":
		openings = isoR40by3
	case "R20":
		openings = isoR20()
	case "R'10":
		openings = isoRounded10
	case "ASTM E11":
		return e11Series(), nil
	case "Tyler":
		return tylerSeries(), nil
	default:
		return nil, fmt.Errorf("size: no sieve series %q; the series are %s", name, strings.Join(SeriesNames(), ", "))
	}
	sieves := make([]Sieve, len(openings))
	for i, opening := range openings {
		sieves[i] = sieveOf(opening)
	}
	return sieves, nil
}

func e11Series() []Sieve {
	sieves := make([]Sieve, len(astmE11))
	for i, row := range astmE11 {
		sieves[i] = Sieve{Opening: shown(row.opening), Designation: row.name}
	}
	return sieves
}

func tylerSeries() []Sieve {
	sieves := make([]Sieve, len(tyler))
	for i, row := range tyler {
		sieves[i] = Sieve{Opening: shown(row.opening), Designation: tylerName(row.name)}
	}
	return sieves
}

func sieveOf(millimetres float64) Sieve {
	sieve := Sieve{Opening: shown(millimetres)}
	same := func(row namedSieve) bool { return micrometres(row.opening) == micrometres(millimetres) }
	if i := slices.IndexFunc(astmE11, same); i >= 0 {
		sieve.Designation = astmE11[i].name
	}
	return sieve
}

// shown is an opening in the unit sieves are labelled with.
func shown(millimetres float64) quantity.Quantity {
	if millimetres >= 1 {
		return quantity.Of(millimetres, "mm")
	}
	return quantity.Of(float64(micrometres(millimetres)), "µm")
}

// micrometres is exact: no opening here has more than three decimals in mm.
func micrometres(millimetres float64) int { return int(millimetres*1000 + 0.5) }
