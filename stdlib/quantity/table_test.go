package quantity

import (
	"strings"
	"testing"
)

// The factor of each unit is stated in the table and its relation to other
// units beside it; the two must agree exactly.
func TestFactorsFollowFromRelations(t *testing.T) {
	checked := 0
	for _, l := range Known() {
		if l.relation == "" {
			continue
		}
		relation := strings.TrimSpace(strings.TrimLeft(l.relation, "=~"))
		want := unity()
		if number, unit, found := strings.Cut(relation, " "); found {
			if f, err := parseFactor(number); err == nil {
				want, relation = f, unit
			}
		}
		if relation != "1" {
			u, err := ParseUnit(relation)
			if err != nil {
				t.Errorf("%s: relation %q: %v", l.Symbol, l.relation, err)
				continue
			}
			if u.Dimension() != l.Dimension {
				t.Errorf("%s measures %v, its relation %q %v", l.Symbol, l.Dimension, l.relation, u.Dimension())
			}
			want = want.mul(u.u.size)
		}
		got, err := parseFactor(l.factor)
		if err != nil {
			t.Fatal(err)
		}
		if !got.equal(want) {
			t.Errorf("%s: factor %s is %v, by its relation %q it is %v", l.Symbol, l.factor, got.float(), l.relation, want.float())
		}
		checked++
	}
	if checked < 90 {
		t.Errorf("only %d units have a relation", checked)
	}
}

func TestTableIsComplete(t *testing.T) {
	for _, l := range Known() {
		if l.Name == "" || l.Plural == "" || l.Source == "" {
			t.Errorf("%s lacks a name, a plural or a source", l.Symbol)
		}
		isMoney := l.Dimension == baseDimension(money)
		isBase := strings.Contains(" m s K mol cd A rad ", " "+l.Symbol+" ")
		if l.relation == "" && !isMoney && !isBase {
			t.Errorf("%s has no relation to other units", l.Symbol)
		}
		for _, spelling := range append([]string{l.Symbol, l.Name, l.Plural}, l.Others...) {
			u, err := ParseUnit(spelling)
			if err != nil {
				t.Errorf("%q: %v", spelling, err)
				continue
			}
			shown := l.Symbol
			if product, found := strings.CutPrefix(l.relation, "~"); found {
				v, err := ParseUnit(product)
				if err != nil {
					t.Fatal(err)
				}
				shown = v.Symbol()
			}
			if u.Symbol() != shown {
				t.Errorf("%q reads as %s, not %s", spelling, u.Symbol(), shown)
			}
		}
	}
}

// shadowed are prefixed symbols that mean another unit of the table; each is a
// decision.
var shadowed = map[string]string{
	"Gs": "the gauss, not the gigasecond",
	"PS": "the metric horsepower, not the petasiemens",
	"ft": "the foot, not the femtotonne",
}

func TestPrefixesDoNotCollide(t *testing.T) {
	for _, l := range Known() {
		for _, p := range l.Prefixes {
			symbol := p + l.Symbol
			a := known().find(symbol)
			if a == nil {
				t.Errorf("%s is not known", symbol)
				continue
			}
			if _, meant := shadowed[symbol]; meant {
				continue
			}
			if a.prefix != p || a.unprefixed.symbol != l.Symbol {
				t.Errorf("%s is the %s, not the %s with %s", symbol, a.name, l.Name, p)
			}
		}
	}
}

// The values of the prefixes: SI brochure, 9th edition, table 7, with the four
// of 2022.
func TestPrefixes(t *testing.T) {
	want := map[string]float64{"Q": 1e30, "R": 1e27, "Y": 1e24, "Z": 1e21, "E": 1e18, "P": 1e15, "T": 1e12,
		"G": 1e9, "M": 1e6, "k": 1e3, "h": 100, "da": 10, "d": 0.1, "c": 0.01, "m": 1e-3, "µ": 1e-6, "n": 1e-9,
		"p": 1e-12, "f": 1e-15, "a": 1e-18, "z": 1e-21, "y": 1e-24, "r": 1e-27, "q": 1e-30}
	if len(want) != len(prefixes) {
		t.Errorf("%d prefixes, want %d", len(prefixes), len(want))
	}
	for symbol, factor := range want {
		if got := Of(1, symbol+"J").SI(); got != factor {
			t.Errorf("1 %sJ is %v J, want %v", symbol, got, factor)
		}
	}
}

func TestTableRefusesMistakes(t *testing.T) {
	for _, text := range []string{
		"x | ex",
		"x | ex | exes | | 1 apple | m | | | s",
		"x | ex | exes | | 1 | apple | | | s",
		"x | ex | exes | | -1 | m | | | s",
		"x | ex | exes | | 1 | m | | | s\ny | why | whys | ex | 1 | m | | | s",
		"x | ex | exes | | 1 | m | = apple | | s",
		"x | ex | exes | | 1 | scale +warm | | | s",
		"? x | y",
		"= x | y",
		"x | ex | exes | | 1 | m | k | | s\n= ex | x",
		"x | ex | exes | | 1 | m | | | s\n? x | y | z",
	} {
		r := &registry{atoms: map[string]*atom{}, prefixed: map[string]*atom{}, refused: map[string]refusal{}}
		if err := r.load(text); err == nil {
			t.Errorf("the table %q was accepted", text)
		}
	}
}
