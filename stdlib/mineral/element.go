package mineral

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"cobber/stdlib/quantity"
)

// AtomicWeightsYear is the year of the table of standard atomic weights.
const AtomicWeightsYear = 2021

//go:embed weights.txt
var weightsText string

// Element is a chemical element with its standard atomic weight.
type Element struct {
	Number      int
	Symbol      string
	Name        string
	Weight      quantity.Quantity // g/mol; the abridged value where nature varies
	Uncertainty quantity.Quantity // of Weight, as IUPAC states it
	Low, High   quantity.Quantity // the standard interval, or Weight ± Uncertainty where IUPAC gives none
}

// String is the element's symbol.
func (e Element) String() string { return e.Symbol }

var elements = sync.OnceValue(readElements)

// Elements are all elements that have a standard atomic weight, by atomic
// number.
func Elements() []Element { return slices.Clone(elements()) }

// FindElement is the element of a symbol, such as Fe.
//
// Units: its weights are molar masses, in g/mol.
//
// Range: the 84 elements with a standard atomic weight. The weights are those of
// normal terrestrial material; lunar and meteoritic material agrees within the
// figures that assays need.
//
// Errors: a text that is no symbol; an element without a stable isotope, which
// has no standard atomic weight.
//
// Source: IUPAC 2021, T. Prohaska and others, Pure Appl. Chem. 94 (2022) 573.
func FindElement(symbol string) (Element, error) {
	if e, ok := lookUp(symbol); ok {
		return e, nil
	}
	if slices.Contains(unstable, symbol) {
		return Element{}, fmt.Errorf("mineral: %s has no stable isotope and so no standard atomic weight", symbol)
	}
	if e, ok := lookUp(capitalised(symbol)); ok {
		return Element{}, fmt.Errorf("mineral: %q is no element; the symbol of %s is %s", symbol, e.Name, e.Symbol)
	}
	for _, e := range elements() {
		if strings.EqualFold(e.Name, symbol) {
			return Element{}, fmt.Errorf("mineral: %q is a name; the symbol of %s is %s", symbol, e.Name, e.Symbol)
		}
	}
	return Element{}, fmt.Errorf("mineral: %q is no element", symbol)
}

func lookUp(symbol string) (Element, bool) {
	i, ok := elementOf()[symbol]
	if !ok {
		return Element{}, false
	}
	return elements()[i], true
}

var elementOf = sync.OnceValue(func() map[string]int {
	index := map[string]int{}
	for i, e := range elements() {
		index[e.Symbol] = i
	}
	return index
})

// unstable elements that a formula might hold.
var unstable = strings.Fields("Tc Pm Po At Rn Fr Ra Ac Np Pu Am Cm Bk Cf Es Fm Md No Lr")

func capitalised(symbol string) string {
	letters := []rune(strings.ToLower(symbol))
	if len(letters) > 0 {
		letters[0] = unicode.ToUpper(letters[0])
	}
	return string(letters)
}

func readElements() []Element {
	var all []Element
	for line := range strings.Lines(weightsText) {
		fields := strings.Fields(line)
		if len(fields) < 4 || fields[0] == "#" {
			continue
		}
		number, err := strconv.Atoi(fields[0])
		weight, uncertainty, ok := readWeight(fields[3])
		if err != nil || !ok {
			panic("mineral: weights.txt: " + line)
		}
		low, high := weight-uncertainty, weight+uncertainty
		if len(fields) > 4 {
			if _, err := fmt.Sscanf(fields[4], "[%g,%g]", &low, &high); err != nil {
				panic("mineral: weights.txt: " + line)
			}
		}
		molar := func(x float64) quantity.Quantity { return quantity.Of(x, "g/mol") }
		all = append(all, Element{number, fields[1], fields[2], molar(weight), molar(uncertainty), molar(low), molar(high)})
	}
	return all
}

// readWeight reads 55.845(2), which is 55.845 ± 0.002; a point in the brackets
// means what it says, as in 207.2(1.1).
func readWeight(text string) (weight, uncertainty float64, ok bool) {
	digits, rest, found := strings.Cut(text, "(")
	weight, err := strconv.ParseFloat(digits, 64)
	if err != nil || !found {
		return 0, 0, false
	}
	last := strings.TrimSuffix(rest, ")")
	uncertainty, err = strconv.ParseFloat(last, 64)
	if err != nil {
		return 0, 0, false
	}
	if !strings.Contains(last, ".") {
		_, decimals, _ := strings.Cut(digits, ".")
		uncertainty /= math.Pow10(len(decimals))
	}
	return weight, uncertainty, true
}
