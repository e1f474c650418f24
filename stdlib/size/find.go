package size

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// FindSieve is the standard sieve a label names: an ASTM E11 name ("#200",
// "No. 200", "3/8 in"), a mesh of the Tyler scale ("Tyler 65", "65 mesh Tyler"),
// or an opening ("75 µm", "0.3 mm").
//
// Units: the opening of the sieve is a length.
//
// Range: the sieves of Series. A label in inches is a name of ASTM E11, so
// "1 in" is the sieve with an opening of 25.0 mm.
//
// Errors: a label that is neither; an opening no standard sieve has (the two
// nearest are named); "200 mesh", which means different openings in different
// series.
//
// Source: ASTM E11, ISO 565:1990; the Tyler scale as Series says.
func FindSieve(label string) (Sieve, error) {
	name := strings.TrimSpace(label)
	if mesh, ok := tylerMesh(name); ok {
		return tylerSieve(mesh, label)
	}
	if strings.Contains(strings.ToLower(name), "mesh") {
		return Sieve{}, fmt.Errorf("size: %q: a mesh count is not an opening, it differs between the sieve series; "+
			"write the ASTM E11 number, as in #200, the Tyler one, as in Tyler 200, or the opening, as in 75 µm", label)
	}
	wanted := spelling(name)
	for _, row := range astmE11 {
		if spelling(row.name) == wanted {
			return Sieve{Opening: shown(row.opening), Designation: row.name}, nil
		}
	}
	if strings.HasPrefix(wanted, "#") || strings.HasSuffix(wanted, "in") {
		return Sieve{}, fmt.Errorf("size: ASTM E11 has no sieve %q", label)
	}
	opening, err := quantity.Parse(name)
	if err != nil {
		return Sieve{}, fmt.Errorf("size: %q names no sieve; write an ASTM E11 number, as in #200, or an opening, as in 75 µm", label)
	}
	return sieveWithOpening(opening, label)
}

// tylerMesh is the count in a label that says Tyler.
func tylerMesh(name string) (string, bool) {
	name = strings.ToLower(name)
	if !strings.Contains(name, "tyler") {
		return "", false
	}
	for _, word := range []string{"tyler", "mesh", "#", "no."} {
		name = strings.ReplaceAll(name, word, " ")
	}
	return spelling(strings.TrimSpace(name)), true
}

func tylerSieve(mesh, label string) (Sieve, error) {
	for _, row := range tyler {
		if row.name == mesh {
			return Sieve{Opening: shown(row.opening), Designation: tylerName(row.name)}, nil
		}
	}
	return Sieve{}, fmt.Errorf("size: %q: the Tyler scale here has no such mesh; it runs from 2-1/2 to 400", label)
}

// spelling takes away what people write differently: "No.200", "no 200",
// "#200"; "3 1/2 in", `3½"`, "3-1/2 inch".
func spelling(name string) string {
	name = strings.ToLower(name)
	name = strings.NewReplacer("½", "-1/2", "¼", "-1/4", "¾", "-3/4", "inches", " in", "inch", " in", `"`, " in").Replace(name)
	if rest, found := strings.CutPrefix(name, "no"); found {
		name = "#" + strings.TrimPrefix(rest, ".")
	}
	fields := strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '-' })
	return strings.TrimPrefix(strings.ReplaceAll(strings.Join(fields, "-"), "#-", "#"), "-")
}

func sieveWithOpening(opening quantity.Quantity, label string) (Sieve, error) {
	millimetres, err := opening.Value("mm")
	if err != nil {
		return Sieve{}, fmt.Errorf("size: the opening of a sieve is a length, and %q is not", label)
	}
	known := allSieves()
	for _, sieve := range known {
		if has, _ := sieve.Opening.Value("mm"); math.Abs(has-millimetres) <= 1e-9*has {
			return sieve, nil
		}
	}
	near := nearest(known, millimetres)
	return Sieve{}, fmt.Errorf("size: no standard sieve has an opening of %v; near it are %v and %v", label, near[0], near[1])
}

// allSieves are those of all series, coarsest first, each once.
func allSieves() []Sieve {
	var all []Sieve
	for _, name := range SeriesNames() {
		series, _ := Series(name) // the names come from the same table
		all = append(all, series...)
	}
	slices.SortStableFunc(all, func(a, b Sieve) int { return b.Opening.Compare(a.Opening) })
	return slices.CompactFunc(all, func(a, b Sieve) bool { return a.Opening.Equal(b.Opening) })
}

// nearest are the two sieves closest to an opening by ratio.
func nearest(known []Sieve, millimetres float64) []Sieve {
	byRatio := slices.Clone(known)
	away := func(s Sieve) float64 {
		has, _ := s.Opening.Value("mm")
		return math.Abs(math.Log(has / millimetres))
	}
	slices.SortStableFunc(byRatio, func(a, b Sieve) int { return cmp.Compare(away(a), away(b)) })
	return byRatio[:2]
}
