package mineral

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Target is what a blend should come near to: a composition, a size
// distribution, or both. Each tolerance is the miss that counts as much as one
// tolerance of the other kind.
type Target struct {
	Composition   Composition
	Within        quantity.Quantity   // tolerance of its shares; needed where there is a size target too
	Openings      []quantity.Quantity // of the sieves; may be empty
	Passing       []quantity.Quantity // share of the mass that passes each
	PassingWithin quantity.Quantity   // tolerance of these shares
}

// Material is what a blend can be made of.
type Material struct {
	Name        string
	Composition Composition         // with all names of the target's
	Passing     []quantity.Quantity // through the target's sieves
	Low, High   quantity.Quantity   // bounds of its share of the blend; left out, 0 and 100 %
}

// Blend is a recipe: shares of materials that come nearest to a target, and what
// they miss. Make one with FindBlend.
type Blend struct {
	target    Target
	materials []Material
	shares    []float64
	unique    bool
}

// FindBlend is the shares x of materials, which add up to 100 % and keep their
// bounds, whose mixture comes nearest to a target,
//
//	Σi ((ti − Σj cij·xj) / di)² → least,  Σj xj = 1,  lowj ≤ xj ≤ highj
//
// with ti a wanted share (of a component, or passing a sieve), cij that of
// material j and di the tolerance.
//
// Units: shares of mass; openings are lengths. Uncertain shares count with their
// means.
//
// Range: compositions and passing shares mix by mass. Density, moisture and what
// grains do to one another are not looked at.
//
// Errors: a target without anything wanted, or with both kinds and no
// tolerances; no material, or one without a name of its own, without a component
// or passing share that the target names, or with a share outside 0 to 100 %;
// passing that rises towards finer sieves; bounds that cross, or that no recipe
// keeps.
//
// Source: linear mixing; least squares within bounds, C.L. Lawson, R.J. Hanson,
// Solving Least Squares Problems (1974), ch. 23.
func FindBlend(target Target, materials ...Material) (Blend, error) {
	within, passingWithin, err := target.tolerances()
	if err != nil {
		return Blend{}, err
	}
	rows, right, err := target.equations(materials, within, passingWithin)
	if err != nil {
		return Blend{}, err
	}
	low, high, err := bounds(materials)
	if err != nil {
		return Blend{}, err
	}
	best := numeric.BoundedLeastSquares(rows, right, low, high, 1)
	if !best.Settled {
		return Blend{}, fmt.Errorf("mineral: the search for a blend did not end; leave out materials that are alike")
	}
	return Blend{target: target, materials: slices.Clone(materials), shares: best.X, unique: best.Unique}, nil
}

func (t Target) tolerances() (within, passingWithin float64, err error) {
	if len(t.Openings) != len(t.Passing) {
		return 0, 0, fmt.Errorf("mineral: the target has %d openings and %d passing shares; each sieve needs one", len(t.Openings), len(t.Passing))
	}
	if len(t.Composition.names) == 0 && len(t.Passing) == 0 {
		return 0, 0, fmt.Errorf("mineral: the target wants nothing; give it a composition or passing shares")
	}
	if err := checkPassing("the target", t.Openings, t.Passing); err != nil {
		return 0, 0, err
	}
	if len(t.Composition.names) == 0 || len(t.Passing) == 0 {
		return 0.01, 0.01, nil // of one kind only: the same for all changes nothing
	}
	read := func(q quantity.Quantity, what string) float64 {
		x, wrong := q.Value("wt%")
		if err == nil && (wrong != nil || !(x > 0)) {
			err = fmt.Errorf("mineral: a target of composition and size needs a tolerance of %s, as in 1 %%, and %v is none", what, q)
		}
		return x / 100
	}
	within, passingWithin = read(t.Within, "composition (Within)"), read(t.PassingWithin, "size (PassingWithin)")
	return within, passingWithin, err
}

func checkPassing(whose string, openings, passing []quantity.Quantity) error {
	for i := range passing {
		if err := checkShare(fmt.Sprintf("%s, passing %v", whose, openings[i]), passing[i]); err != nil {
			return err
		}
		opening, err := openings[i].Value("m")
		if err != nil || !(opening > 0) {
			return fmt.Errorf("mineral: an opening is a length above 0, and %v is not", openings[i])
		}
		for k := range i {
			coarser, err := openings[k].Value("m")
			if err != nil {
				return err
			}
			a, b := passing[k].Certain(), passing[i].Certain()
			if opening == coarser || opening < coarser && a.Less(b) || opening > coarser && b.Less(a) {
				return fmt.Errorf("mineral: %s: %v passes %v and %v passes %v; less passes a finer sieve", whose, a, openings[k], b, openings[i])
			}
		}
	}
	return nil
}

// equations are the rows of the least squares problem.
func (t Target) equations(materials []Material, within, passingWithin float64) (rows [][]float64, right []float64, err error) {
	if len(materials) == 0 {
		return nil, nil, fmt.Errorf("mineral: there is no material to blend")
	}
	for i, m := range materials {
		isAgain := slices.ContainsFunc(materials[:i], func(other Material) bool { return other.Name == m.Name })
		if strings.TrimSpace(m.Name) == "" || isAgain {
			return nil, nil, fmt.Errorf("mineral: material %d needs a name of its own, and %q is not", i+1, m.Name)
		}
		if len(m.Passing) < len(t.Passing) {
			return nil, nil, fmt.Errorf("mineral: %s has %d passing shares; the target asks for %d", m.Name, len(m.Passing), len(t.Passing))
		}
		if err := checkPassing(m.Name, t.Openings, m.Passing[:len(t.Passing)]); err != nil {
			return nil, nil, err
		}
	}
	for i, name := range t.Composition.names {
		row := make([]float64, len(materials))
		for j, m := range materials {
			share, err := m.Composition.Share(name)
			if err != nil {
				return nil, nil, fmt.Errorf("mineral: %s does not say its %s, which the target wants; write 0 %% if it has none", m.Name, name)
			}
			row[j] = fraction(share) / within
		}
		rows, right = append(rows, row), append(right, fraction(t.Composition.shares[i])/within)
	}
	for i := range t.Passing {
		row := make([]float64, len(materials))
		for j, m := range materials {
			row[j] = fraction(m.Passing[i]) / passingWithin
		}
		rows, right = append(rows, row), append(right, fraction(t.Passing[i])/passingWithin)
	}
	return rows, right, nil
}

// fraction is a share that has been checked.
func fraction(share quantity.Quantity) float64 {
	x, err := share.Value("wt%")
	if err != nil {
		panic("mineral: " + err.Error())
	}
	return x / 100
}

// bounds are the bounds of the materials as fractions.
func bounds(materials []Material) (low, high []float64, err error) {
	low, high = make([]float64, len(materials)), slices.Repeat([]float64{1}, len(materials))
	for i, m := range materials {
		for _, bound := range []struct {
			q  quantity.Quantity
			at *float64
		}{{m.Low, &low[i]}, {m.High, &high[i]}} {
			if bound.q.IsNothing() {
				continue
			}
			if err := checkShare("bound of "+m.Name, bound.q); err != nil {
				return nil, nil, err
			}
			*bound.at = fraction(bound.q)
		}
		if low[i] > high[i] {
			return nil, nil, fmt.Errorf("mineral: the bounds of %s cross: %v is above %v", m.Name, m.Low, m.High)
		}
	}
	if least := numeric.Sum(low...); least > 1+1e-12 {
		return nil, nil, fmt.Errorf("mineral: the lower bounds add up to %.4g %%, more than a whole", 100*least)
	}
	if most := numeric.Sum(high...); most < 1-1e-12 {
		return nil, nil, fmt.Errorf("mineral: the upper bounds add up to %.4g %%, less than a whole", 100*most)
	}
	return low, high, nil
}

// Materials are the names of the materials, in their order.
func (b Blend) Materials() []string {
	names := make([]string, len(b.materials))
	for i, m := range b.materials {
		names[i] = m.Name
	}
	return names
}

// Shares are the shares of the materials in %, in the order of Materials; they
// add up to 100 %.
func (b Blend) Shares() []quantity.Quantity {
	shares := make([]quantity.Quantity, len(b.shares))
	for i, x := range b.shares {
		shares[i] = percent(x)
	}
	return shares
}

// Share is the share of one material.
//
// Units: in %.
//
// Range: within its bounds.
//
// Errors: there is no material of that name.
//
// Source: as FindBlend.
func (b Blend) Share(material string) (quantity.Quantity, error) {
	if i := slices.Index(b.Materials(), material); i >= 0 {
		return percent(b.shares[i]), nil
	}
	return quantity.Quantity{}, fmt.Errorf("mineral: no material %q; there are %s", material, strings.Join(b.Materials(), ", "))
}

// IsOnly reports whether no other recipe comes as near; if not, there is room to
// choose, by price or stock.
func (b Blend) IsOnly() bool { return b.unique }

// Composition is what the blend holds of each component that the target names.
func (b Blend) Composition() Composition {
	c := Composition{names: b.target.Composition.Names()}
	for _, name := range c.names {
		share := percent(0)
		for j, m := range b.materials {
			part, _ := m.Composition.Share(name) // FindBlend has looked
			share = share.Add(part.To("%").Mul(quantity.Number(b.shares[j])))
		}
		c.shares = append(c.shares, share)
	}
	return c
}

// Passing is the share of the blend in % that passes each of the target's
// sieves.
func (b Blend) Passing() []quantity.Quantity {
	out := make([]quantity.Quantity, len(b.target.Passing))
	for i := range out {
		out[i] = percent(0)
		for j, m := range b.materials {
			out[i] = out[i].Add(m.Passing[i].To("%").Mul(quantity.Number(b.shares[j])))
		}
	}
	return out
}

// Table is the recipe: materials with their shares and bounds.
func (b Blend) Table() table.Table {
	low, high, err := bounds(b.materials)
	if err != nil {
		panic(err) // FindBlend has read them
	}
	var lows, highs []quantity.Quantity
	for i := range low {
		lows, highs = append(lows, percent(low[i])), append(highs, percent(high[i]))
	}
	caption := "the only blend that comes so near"
	if !b.unique {
		caption = "one of several blends that come as near"
	}
	return mustTable(table.Texts("material", b.Materials()), table.Quantities("share", b.Shares()),
		table.Quantities("at least", lows), table.Quantities("at most", highs)).Caption(caption)
}

// Misses is a table of what was wanted, what the blend gives, and what is missed
// (wanted less given).
func (b Blend) Misses() table.Table {
	var names []string
	var wanted, given, missed []quantity.Quantity
	put := func(name string, want, got quantity.Quantity) {
		names = append(names, name)
		want = want.To("%")
		wanted, given, missed = append(wanted, want), append(given, got), append(missed, rest(want, got))
	}
	got := b.Composition()
	for i, name := range got.names {
		put(name, b.target.Composition.shares[i], got.shares[i])
	}
	for i, got := range b.Passing() {
		put("passing "+b.target.Openings[i].String(), b.target.Passing[i], got)
	}
	return mustTable(table.Texts("wanted of", names), table.Quantities("wanted", wanted),
		table.Quantities("given", given), table.Quantities("missed", missed))
}

// RootMeanMiss is the root of the mean square of what is missed, in tolerances
// where the target has them and in % where it is of one kind.
func (b Blend) RootMeanMiss() float64 {
	within, passingWithin, err := b.target.tolerances()
	if err != nil {
		panic(err) // FindBlend has read them
	}
	sum, count := 0.0, 0
	got := b.Composition()
	for i := range got.names {
		miss := (fraction(b.target.Composition.shares[i]) - fraction(got.shares[i])) / within
		sum, count = sum+miss*miss, count+1
	}
	for i, passing := range b.Passing() {
		miss := (fraction(b.target.Passing[i]) - fraction(passing)) / passingWithin
		sum, count = sum+miss*miss, count+1
	}
	return math.Sqrt(sum / float64(count))
}

// String is Table and Misses as text.
func (b Blend) String() string { return b.Table().String() + "\n\n" + b.Misses().String() }

// HTML is Table and Misses as HTML.
func (b Blend) HTML() string { return b.Table().HTML() + "\n" + b.Misses().HTML() }

// Markdown is Table and Misses as Markdown.
func (b Blend) Markdown() string { return b.Table().Markdown() + "\n\n" + b.Misses().Markdown() }

// LaTeX is Table and Misses as LaTeX.
func (b Blend) LaTeX() string { return b.Table().LaTeX() + "\n\n" + b.Misses().LaTeX() }
