package quantity

import (
	_ "embed"
	"fmt"
	"math/big"
	"strings"
	"sync"
)

//go:embed units.txt
var unitsText string

// registry is every unit that can be named: the table and what was declared.
type registry struct {
	sync.RWMutex
	atoms       map[string]*atom   // by every spelling
	prefixed    map[string]*atom   // the same with an SI prefix
	listed      []*atom            // as in the table
	refused     map[string]refusal // words with several meanings
	contraction []*atom            // atoms kept as products
	coherent    []*atom            // SI units with a name that products of others may take
	kelvin      *atom
	listings    []Listing
	texts       map[string]*unit // unit expressions already read
	nextID      int
}

type refusal struct {
	choices []string
	reason  string
}

// Listing describes one unit of the table.
type Listing struct {
	Symbol, Name, Plural string
	Others               []string // further spellings
	Prefixes             []string // SI prefixes in use with it
	Dimension            Dimension
	Source               string // where its factor is defined
	factor, relation     string
}

var known = sync.OnceValue(func() *registry {
	r := &registry{atoms: map[string]*atom{}, prefixed: map[string]*atom{}, refused: map[string]refusal{}, texts: map[string]*unit{}}
	if err := r.load(unitsText); err != nil {
		panic(fmt.Errorf("units.txt: %w", err)) // embedded; the tests read every line
	}
	contracting = r.contraction
	r.kelvin = r.atoms["K"]
	for _, symbol := range []string{"N", "Pa", "J", "W", "C", "V", "Ω", "F", "Wb", "T", "H"} {
		r.coherent = append(r.coherent, r.atoms[symbol])
	}
	return r
})

// contracting is set once the table is read: spelling a unit while it is being
// read must not wait for the table.
var contracting []*atom

func contractions() []*atom { return contracting }

// Known lists the units of the table, in its order.
func Known() []Listing { return append([]Listing(nil), known().listings...) }

func (r *registry) load(text string) error {
	for number, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		var err error
		if rest, found := strings.CutPrefix(line, "? "); found {
			err = r.loadRefusal(fields(rest))
		} else if rest, found := strings.CutPrefix(line, "= "); found {
			err = r.loadSpellings(fields(rest))
		} else {
			err = r.loadUnit(fields(line))
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", number+1, err)
		}
	}
	return r.resolveProducts()
}

func fields(line string) []string {
	parts := strings.Split(line, "|")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func list(text string) []string {
	var out []string
	for _, word := range strings.Split(text, ",") {
		if word = strings.TrimSpace(word); word != "" {
			out = append(out, word)
		}
	}
	return out
}

func (r *registry) loadRefusal(f []string) error {
	if len(f) != 3 {
		return fmt.Errorf("a word with several meanings needs 3 fields, not %d", len(f))
	}
	for _, word := range list(f[0]) {
		if _, taken := r.refused[word]; taken || r.atoms[word] != nil {
			return fmt.Errorf("%q stands twice", word)
		}
		r.refused[word] = refusal{list(f[1]), f[2]}
	}
	return nil
}

func (r *registry) loadSpellings(f []string) error {
	if len(f) != 2 || r.find(f[1]) == nil {
		return fmt.Errorf("further spellings need a unit that stands above")
	}
	for _, word := range list(f[0]) {
		if r.find(word) != nil {
			return fmt.Errorf("%q stands twice", word)
		}
		r.atoms[word] = r.find(f[1])
	}
	return nil
}

func (r *registry) loadUnit(f []string) error {
	if len(f) != 9 {
		return fmt.Errorf("a unit needs 9 fields, not %d", len(f))
	}
	a := &atom{symbol: f[0], name: f[1], plural: f[2]}
	size, err := parseFactor(f[4])
	if err != nil {
		return err
	}
	a.size = size
	if err := a.setBase(f[5]); err != nil {
		return err
	}
	l := Listing{Symbol: f[0], Name: f[1], Plural: f[2], Others: list(f[3]), Prefixes: prefixList(f[7]),
		Dimension: a.dimension, Source: f[8], factor: f[4], relation: f[6]}
	for _, spelling := range append([]string{a.symbol, a.name, a.plural}, l.Others...) {
		if taken := r.atoms[spelling]; taken != nil && taken != a {
			return fmt.Errorf("%q already means %s", spelling, taken.name)
		}
		r.atoms[spelling] = a
	}
	r.add(a)
	r.listings = append(r.listings, l)
	for _, p := range l.Prefixes {
		r.addPrefixed(p, a, append([]string{a.symbol, a.name, a.plural}, l.Others...))
	}
	return nil
}

// find is the unit of that spelling, or nil.
func (r *registry) find(word string) *atom {
	if a := r.atoms[word]; a != nil {
		return a
	}
	return r.prefixed[word]
}

// isRefused tells whether a word has several meanings and none was declared;
// pH is refused although it could be the picohenry.
func (r *registry) isRefused(word string) bool {
	_, refused := r.refused[word]
	return refused && r.atoms[word] == nil
}

func (r *registry) add(a *atom) {
	r.nextID++
	a.id = r.nextID
	r.listed = append(r.listed, a)
}

// setBase reads the base column.
func (a *atom) setBase(text string) error {
	switch {
	case text == "1":
		return nil
	case text == "currency":
		a.mark = a.symbol
	case strings.HasSuffix(text, " fraction"):
		a.kind = text
		return nil
	case text == "difference":
		a.isDelta = true
		a.inCompound = strings.TrimPrefix(a.symbol, "Δ")
		a.dimension = baseDimension(temperature)
		return nil
	case strings.HasPrefix(text, "scale +"):
		zero, ok := new(big.Rat).SetString(strings.TrimPrefix(text, "scale +"))
		if !ok {
			return fmt.Errorf("%q is not a scale", text)
		}
		a.zero = zero
		a.dimension = baseDimension(temperature)
		return nil
	}
	if of, basis, found := strings.Cut(text, ", "); found {
		text, a.basis = of, basis
	}
	if rest, found := strings.CutPrefix(text, "angle"); found {
		a.angle = true
		text = strings.TrimSpace(rest)
	}
	d, err := parseBase(text)
	a.dimension = d
	return err
}

// resolveProducts reads the relations that begin with "=" or "~", and ties each
// temperature scale to its difference, once every unit is known.
func (r *registry) resolveProducts() error {
	for _, l := range r.listings {
		a := r.atoms[l.Symbol]
		if a.zero != nil {
			a.difference = r.atoms[l.relation]
		}
		product, found := strings.CutPrefix(l.relation, "=")
		shown, asProduct := strings.CutPrefix(l.relation, "~")
		if !found && !asProduct {
			continue
		}
		if asProduct {
			product = shown
		}
		p := unitParser{registry: r, text: strings.TrimSpace(product)}
		terms, err := p.parse()
		if err != nil {
			return err
		}
		a.madeOf = terms
		if asProduct {
			continue
		}
		r.contraction = append(r.contraction, a)
		for _, p := range l.Prefixes {
			first := term{r.prefixed[p+terms[0].atom.symbol], terms[0].power}
			r.prefixed[p+l.Symbol].madeOf = append([]term{first}, terms[1:]...)
		}
	}
	return nil
}
