package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Selection is how fast particles of each size are broken, Austin's selection
// function,
//
//	S = a·(x/x0)^α · 1/(1 + (x/µ)^Λ)
//
// in which x is the upper size of a class. The second factor, for particles that are
// too large for the balls, is left out where Large is.
type Selection struct {
	Rate     quantity.Quantity // a: per time, or per energy per mass, as in t/kWh
	At       quantity.Quantity // x0; left out: 1 mm
	Exponent quantity.Quantity // α, a plain number
	Large    quantity.Quantity // µ, the size at which the rate has fallen to half
	Fall     quantity.Quantity // Λ, a plain number; left out: 3
}

// Breakage is where the fragments of a broken class go, Austin's breakage function:
// the share finer than x when particles leave a class whose lower size is y,
//
//	B = φ·(x/y)^γ + (1 − φ)·(x/y)^β
type Breakage struct {
	Fines  quantity.Quantity // φ, a share
	Fine   quantity.Quantity // γ, a plain number, the slope of the fines
	Coarse quantity.Quantity // β, a plain number above γ
}

// Grinding is breakage in a mill by size classes: how fast each class is broken and
// what its fragments are. Make one with NewGrinding or Kinetics. It works on plain
// numbers, the means of uncertain quantities; for uncertain results wrap the whole in
// quantity.Through.
type Grinding struct {
	uppers    []float64   // m
	rates     []float64   // 1/s or kg/J
	columns   [][]float64 // columns[j][i]: share of what leaves class j that goes to class i
	perEnergy bool
}

// NewGrinding is a grinding from measured rates and fragments.
//
// Units: uppers are the upper sizes of the classes, coarse to fine; the last class runs
// down to 0. rates are per time or per energy per mass. fragments[j] are the shares of
// what is broken in class j that go to classes j+1 and on, for each class but the last.
//
// Range: the last rate is 0, for what is there has nowhere to go.
//
// Errors: lengths that differ, sizes that do not fall, rates below 0 or of unlike
// kinds, fragments outside 0 to 1 or that do not add up to 1 within 10⁻⁶.
//
// Source: L.G. Austin, R.R. Klimpel, P.T. Luckie, Process Engineering of Size
// Reduction: Ball Milling (1984).
func NewGrinding(uppers, rates []quantity.Quantity, fragments [][]quantity.Quantity) (Grinding, error) {
	n := len(uppers)
	if n < 2 || len(rates) != n || len(fragments) != n-1 {
		return Grinding{}, fmt.Errorf("comminution: a grinding of n classes has n rates and n−1 lists of fragments; here are %d, %d and %d", n, len(rates), len(fragments))
	}
	var g Grinding
	var err error
	if g.uppers, err = falling(uppers); err != nil {
		return Grinding{}, err
	}
	for i, q := range rates {
		rate, perEnergy, err := rateOf(q)
		if err != nil {
			return Grinding{}, fmt.Errorf("class %d: %w", i+1, err)
		}
		if i > 0 && perEnergy != g.perEnergy {
			return Grinding{}, errors.New("comminution: rates are all per time or all per energy")
		}
		g.perEnergy, g.rates = perEnergy, append(g.rates, rate)
	}
	if g.rates[n-1] != 0 {
		return Grinding{}, fmt.Errorf("comminution: the last class runs down to 0 and has nowhere to go; its rate is 0, not %v", rates[n-1])
	}
	for j, list := range fragments {
		if len(list) != n-1-j {
			return Grinding{}, fmt.Errorf("comminution: class %d has %d finer classes, and %d shares of fragments are given", j+1, n-1-j, len(list))
		}
		column, total := make([]float64, n), 0.0
		for k, q := range list {
			if column[j+1+k], err = share(q, "share of fragments"); err != nil {
				return Grinding{}, fmt.Errorf("class %d: %w", j+1, err)
			}
			total += column[j+1+k]
		}
		if math.Abs(total-1) > 1e-6 {
			return Grinding{}, fmt.Errorf("comminution: the fragments of class %d add up to %.7g, not 1", j+1, total)
		}
		g.columns = append(g.columns, column)
	}
	return g, nil
}

func falling(uppers []quantity.Quantity) ([]float64, error) {
	var all []float64
	for i, q := range uppers {
		x, err := positive(q, length, "size of a class")
		if err != nil {
			return nil, err
		}
		if i > 0 && x >= all[i-1] {
			return nil, fmt.Errorf("comminution: sizes of classes fall, and %v after %v does not", q, uppers[i-1])
		}
		all = append(all, x)
	}
	return all, nil
}

// rateOf is a rate per time in 1/s or per energy in kg/J.
func rateOf(q quantity.Quantity) (rate float64, perEnergy bool, err error) {
	if x, err := q.Value("1/s"); err == nil && x >= 0 && !math.IsInf(x, 0) {
		return x, false, nil
	}
	x, err := q.Value("kg/J")
	if err != nil || !(x >= 0) || math.IsInf(x, 0) {
		return 0, false, fmt.Errorf("comminution: a rate of breakage is 0 or more per time (1/min) or per energy (t/kWh), and %v is not", q)
	}
	return x, true, nil
}

// Kinetics is the grinding on some size classes by a selection and a breakage
// function.
//
// Units: uppers are lengths as in NewGrinding.
//
// Range: two classes or more; α above 0, φ from 0 to 1, γ and β above 0, γ not above β.
//
// Errors: parameters of another kind or outside their range.
//
// Source: as NewGrinding.
func Kinetics(uppers []quantity.Quantity, s Selection, b Breakage) (Grinding, error) {
	xs, err := falling(uppers)
	if err != nil {
		return Grinding{}, err
	}
	if len(xs) < 2 {
		return Grinding{}, errors.New("comminution: grinding needs two size classes or more")
	}
	n, err := s.numbers()
	if err != nil {
		return Grinding{}, err
	}
	m, err := b.numbers()
	if err != nil {
		return Grinding{}, err
	}
	return kinetics(xs, n, m), nil
}

func kinetics(uppers []float64, s selection, b breakage) Grinding {
	g := Grinding{uppers: uppers, perEnergy: s.perEnergy, rates: make([]float64, len(uppers))}
	for j := range len(uppers) - 1 {
		g.rates[j] = s.at(uppers[j])
		column, above := make([]float64, len(uppers)), 1.0
		for i := j + 1; i < len(uppers); i++ {
			below := 0.0
			if i+1 < len(uppers) {
				below = b.finer(uppers[i+1] / uppers[j+1])
			}
			column[i], above = above-below, below
		}
		g.columns = append(g.columns, column)
	}
	return g
}

// selection and breakage are the functions in numbers.
type selection struct {
	rate, x0, exponent, large, fall float64
	perEnergy                       bool
}

func (s selection) at(x float64) float64 {
	rate := s.rate * math.Pow(x/s.x0, s.exponent)
	if s.large > 0 {
		rate /= 1 + math.Pow(x/s.large, s.fall)
	}
	return rate
}

func (s Selection) numbers() (n selection, err error) {
	if n.rate, n.perEnergy, err = rateOf(s.Rate); err != nil {
		return n, err
	}
	if n.x0, err = positive(or(s.At, quantity.Of(1, "mm")), length, "size At of a Selection"); err != nil {
		return n, err
	}
	if n.exponent, err = positive(s.Exponent, "1", "exponent α of a Selection"); err != nil {
		return n, err
	}
	if s.Large.IsNothing() {
		return n, nil
	}
	if n.large, err = positive(s.Large, length, "size µ (Large) of a Selection"); err != nil {
		return n, err
	}
	n.fall, err = positive(or(s.Fall, quantity.Number(3)), "1", "exponent Λ (Fall) of a Selection")
	return n, err
}

type breakage struct{ fines, fine, coarse float64 }

// finer is B at a ratio of 1 or less.
func (b breakage) finer(ratio float64) float64 {
	return b.fines*math.Pow(ratio, b.fine) + (1-b.fines)*math.Pow(ratio, b.coarse)
}

func (b Breakage) numbers() (n breakage, err error) {
	if n.fines, err = share(b.Fines, "share φ (Fines) of a Breakage"); err != nil {
		return n, err
	}
	if n.fine, err = positive(b.Fine, "1", "exponent γ (Fine) of a Breakage"); err != nil {
		return n, err
	}
	if n.coarse, err = positive(b.Coarse, "1", "exponent β (Coarse) of a Breakage"); err != nil {
		return n, err
	}
	if n.coarse < n.fine {
		return n, fmt.Errorf("comminution: β, %v, is not below γ, %v; exchange them and take 1 − φ", b.Coarse, b.Fine)
	}
	return n, nil
}

// Rates are the rates of the classes, per minute or per kWh/t.
func (g Grinding) Rates() []quantity.Quantity {
	all := make([]quantity.Quantity, len(g.rates))
	for i, rate := range g.rates {
		all[i] = quantity.Of(rate, "1/s").To("1/min")
		if g.perEnergy {
			all[i] = quantity.Of(rate, "kg/J").To("t/kWh")
		}
	}
	return all
}

// Fragments are the shares of what is broken in each class that go to all classes.
func (g Grinding) Fragments() [][]quantity.Quantity {
	all := make([][]quantity.Quantity, len(g.columns))
	for j, column := range g.columns {
		for _, x := range column {
			all[j] = append(all[j], quantity.Number(x))
		}
	}
	return all
}

// dose is a time in s, or an energy per mass in J/kg, as the rates ask for.
func (g Grinding) dose(q quantity.Quantity) (float64, error) {
	unit, what := "s", "grinding time"
	if g.perEnergy {
		unit, what = perMass, "energy of grinding"
	}
	if len(g.rates) == 0 {
		return 0, errors.New("comminution: an empty Grinding; make one with Kinetics or NewGrinding")
	}
	dose, err := notNegative(q, unit, what)
	if err == nil && dose*g.fastest() > mostTurns {
		err = fmt.Errorf("comminution: with %v the fastest class would be broken %.2g times over; check the rates", q, dose*g.fastest())
	}
	return dose, err
}

// mostTurns is how many times over the fastest class may be broken.
const mostTurns = 1e6

func (g Grinding) fastest() float64 {
	most := 0.0
	for _, rate := range g.rates {
		most = max(most, rate)
	}
	return most
}

// Batch is what becomes of amounts by class in a batch mill, or in a mill through
// which all travels in the same time: the solution of
//
//	dm_i/dt = −S_i·m_i + Σ_j b_ij·S_j·m_j
//
// Units: feed is an amount for each class, all of one kind; dose is a time, or an
// energy per mass where the rates are per energy. The product is in the unit of feed.
//
// Range: rates that do not change as the charge gets finer.
//
// Errors: amounts of unlike kinds, below 0 or not one for each class; a dose of another
// kind, below 0, or with which the fastest class is broken more than 10⁶ times over.
//
// Source: L.G. Austin, Powder Technol. 5 (1971) 1; solved by uniformisation (A. Jensen,
// Skand. Aktuarietidskr. 36 (1953) 87), which keeps masses positive and their sum.
func (g Grinding) Batch(feed []quantity.Quantity, dose quantity.Quantity) ([]quantity.Quantity, error) {
	return g.run(feed, dose, g.batch)
}

// Mixed is what leaves a mill in steady running that is a row of equal, fully mixed
// tanks; one tank is a fully mixed mill, very many are Batch.
//
// Units: as Batch; the dose is that of all tanks together.
//
// Range: as Batch; one tank or more.
//
// Errors: as Batch; no tank.
//
// Source: as NewGrinding; mass balance of a mixed tank.
func (g Grinding) Mixed(feed []quantity.Quantity, dose quantity.Quantity, tanks int) ([]quantity.Quantity, error) {
	if tanks < 1 {
		return nil, fmt.Errorf("comminution: a mill is one tank or more, not %d", tanks)
	}
	return g.run(feed, dose, func(flows []float64, dose float64) []float64 { return g.mixed(flows, dose, tanks) })
}

func (g Grinding) run(feed []quantity.Quantity, dose quantity.Quantity, through func(flows []float64, dose float64) []float64) ([]quantity.Quantity, error) {
	d, err := g.dose(dose)
	if err != nil {
		return nil, err
	}
	if len(feed) != len(g.rates) {
		return nil, fmt.Errorf("comminution: the grinding has %d classes and the feed %d amounts", len(g.rates), len(feed))
	}
	unit := feed[0].Unit()
	flows := make([]float64, len(feed))
	for i, q := range feed {
		x, err := q.Value(unit.String())
		if err != nil || !(x >= 0) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("comminution: amounts in classes are 0 or more and of one kind, and %v in class %d is not", q, i+1)
		}
		flows[i] = x
	}
	out := make([]quantity.Quantity, len(feed))
	for i, x := range through(flows, d) {
		out[i] = unit.Quantity(x)
	}
	return out, nil
}

// step adds share of what is broken at rate scaled by 1/most to the finer classes.
func (g Grinding) step(flows []float64, most float64) []float64 {
	out := make([]float64, len(flows))
	for j, flow := range flows {
		if flow == 0 {
			continue
		}
		broken := flow * g.rates[j] / most
		out[j] += flow - broken
		if broken == 0 {
			continue
		}
		for i := j + 1; i < len(out); i++ {
			out[i] += broken * g.columns[j][i]
		}
	}
	return out
}

// batch sums the Poisson-weighted powers of the step that the fastest class sets. Long
// doses are cut in pieces so that no weight underflows.
func (g Grinding) batch(flows []float64, dose float64) []float64 {
	most := g.fastest()
	if most == 0 || dose == 0 {
		return append([]float64(nil), flows...)
	}
	const longest = 200.0
	pieces := math.Ceil(most * dose / longest)
	mean := most * dose / pieces
	for range int(pieces) {
		weight := math.Exp(-mean)
		out, left := make([]float64, len(flows)), 1.0
		for k := 1; ; k++ {
			for i := range out {
				out[i] += weight * flows[i]
			}
			left -= weight
			if left < 1e-15 || k > 2000 {
				break
			}
			flows = g.step(flows, most)
			weight *= mean / float64(k)
		}
		for i := range out { // what the cut series lacks goes with its last term
			out[i] += max(left, 0) * flows[i]
		}
		flows = out
	}
	return flows
}

// mixed solves the balance of each tank, class by class from the coarsest.
func (g Grinding) mixed(flows []float64, dose float64, tanks int) []float64 {
	each := dose / float64(tanks)
	for range tanks {
		in := append([]float64(nil), flows...)
		out := make([]float64, len(flows))
		for j := range out {
			out[j] = in[j] / (1 + g.rates[j]*each)
			broken := in[j] - out[j]
			if broken == 0 {
				continue
			}
			for i := j + 1; i < len(out); i++ {
				in[i] += broken * g.columns[j][i]
			}
		}
		flows = out
	}
	return flows
}
