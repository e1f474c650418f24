package kinetics

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Form is the equation of a recovery over time. R∞ is the ultimate recovery, k the
// rate.
type Form int

// The forms. But for the ultimate recovery each is what stays behind of material
// whose particles float by first order, each with a rate of its own.
const (
	// FirstOrder is R∞·(1 − e^(−kt)): one rate.
	FirstOrder Form = iota
	// Klimpel is R∞·(1 − (1 − e^(−kt))/(kt)): rates spread evenly from 0 to k.
	Klimpel
	// FastSlow is R∞·(1 − (1 − φ)·e^(−kt) − φ·e^(−k₂t)): a share φ floats slowly.
	FastSlow
	// SecondOrder is R∞²·k·t/(1 + R∞·k·t): rates spread exponentially.
	SecondOrder
	// SecondOrderKlimpel is R∞·(1 − ln(1 + kt)/(kt)).
	SecondOrderKlimpel
)

var forms = []Form{FirstOrder, Klimpel, FastSlow, SecondOrder, SecondOrderKlimpel}

// String is the name of the form.
func (f Form) String() string {
	switch f {
	case FirstOrder:
		return "first order"
	case Klimpel:
		return "rectangular distribution (Klimpel)"
	case FastSlow:
		return "fast and slow (Kelsall)"
	case SecondOrder:
		return "second order"
	case SecondOrderKlimpel:
		return "second order, rectangular distribution"
	}
	return fmt.Sprintf("form %d", int(f))
}

// parameters are those of a model as numbers, rates per unit of time.
type parameters struct{ ultimate, rate, slow, slowShare float64 }

// stays is the share of what could float that is left after a time.
func (f Form) stays(p parameters, t float64) float64 {
	x := p.rate * t
	switch f {
	case FirstOrder:
		return math.Exp(-x)
	case Klimpel:
		if x < 1e-8 {
			return 1 - x/2
		}
		return -math.Expm1(-x) / x
	case FastSlow:
		return (1-p.slowShare)*math.Exp(-x) + p.slowShare*math.Exp(-p.slow*t)
	case SecondOrder:
		return 1 / (1 + p.ultimate*x)
	}
	if x < 1e-8 {
		return 1 - x/2
	}
	return math.Log1p(x) / x
}

// Model is a recovery over time by equation. Make one with NewModel or
// NewFastSlow. Its parameters may be uncertain, and so is then what follows from
// them.
type Model struct {
	form                            Form
	ultimate, rate, slow, slowShare quantity.Quantity
}

// NewModel is a model of a form with two parameters.
//
// Units: ultimate is the recovery R∞ that is never passed, as in %; rate is k, as
// in 1/min.
//
// Range: R∞ above 0, up to 100 %; k above 0.
//
// Errors: a form that is none, or FastSlow, for which there is NewFastSlow;
// parameters of another kind or out of range.
//
// Source: first order, H. García-Zúñiga, Bol. Min. Soc. Nac. Min. 47 (1935) 83;
// rectangular, R.R. Klimpel, in Mineral Processing Plant Design (1980); second
// order, N. Arbiter, Trans. AIME 190 (1951) 791; all from memory. The five forms
// side by side: XXXI IMPC (2024) proceedings, p. 2756.
func NewModel(form Form, ultimate, rate quantity.Quantity) (Model, error) {
	if form == FastSlow {
		return Model{}, fmt.Errorf("kinetics: a model of fast and slow has two rates; use NewFastSlow")
	}
	return newModel(form, ultimate, rate, rate, percent(0))
}

// NewFastSlow is the model of Kelsall, in which a share of what floats does so
// slowly.
//
// Units: ultimate as in %; fast and slow are rates, as in 1/min; slowShare φ as in
// %, of what floats.
//
// Range: R∞ above 0, up to 100 %; rates above 0, fast not below slow; φ from 0 to
// 100 %.
//
// Errors: parameters of another kind or out of range.
//
// Source: D.F. Kelsall, Trans. Instn Min. Metall. 70 (1961) 191 (reference from
// memory).
func NewFastSlow(ultimate, fast, slow, slowShare quantity.Quantity) (Model, error) {
	return newModel(FastSlow, ultimate, fast, slow, slowShare)
}

func newModel(form Form, ultimate, rate, slow, slowShare quantity.Quantity) (Model, error) {
	if form < FirstOrder || form > SecondOrderKlimpel {
		return Model{}, fmt.Errorf("kinetics: there is no %v", form)
	}
	if r, err := share(ultimate); err != nil || r == 0 {
		return Model{}, fmt.Errorf("kinetics: the ultimate recovery lies above 0, up to 100 %%, and %v does not; write a percentage with its unit", ultimate)
	}
	fast, err := rateOf(rate)
	if err != nil {
		return Model{}, err
	}
	low, err := rateOf(slow)
	if err != nil {
		return Model{}, err
	}
	if low > fast {
		return Model{}, fmt.Errorf("kinetics: the slow rate, %v, is above the fast one, %v", slow, rate)
	}
	if _, err := share(slowShare); err != nil {
		return Model{}, fmt.Errorf("kinetics: the slow share: %w", err)
	}
	return Model{form, ultimate, rate, slow, slowShare}, nil
}

func rateOf(q quantity.Quantity) (float64, error) {
	k, err := q.Value("1/s")
	if err != nil || !(k > 0) || math.IsInf(k, 0) {
		return 0, fmt.Errorf("kinetics: a rate is above 0 and given as in 1/min, and %v is not", q)
	}
	return k, nil
}

// Form is the model's equation.
func (m Model) Form() Form { return m.form }

// Ultimate is the recovery that is never passed, R∞.
func (m Model) Ultimate() quantity.Quantity { return m.ultimate }

// Rate is k; of FastSlow the fast rate.
func (m Model) Rate() quantity.Quantity { return m.rate }

// Slow is the slow rate of FastSlow and the share of what floats that has it; of
// other forms the rate and 0 %.
func (m Model) Slow() (rate, share quantity.Quantity) { return m.slow, m.slowShare }

// through carries uncertain parameters, and what else is given, through a
// calculation on numbers: rates in 1/s.
func (m Model) through(of func(p parameters, v []quantity.Quantity) (quantity.Quantity, error), more ...quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		return of(parameters{v[0].SI(), v[1].SI(), v[2].SI(), v[3].SI()}, v[4:])
	}, append([]quantity.Quantity{m.ultimate, m.rate, m.slow, m.slowShare}, more...)...)
}

// Recovery is the recovery of a batch after a time; of a plug flow too.
//
// Units: a time; the recovery in %.
//
// Range: times of 0 or more.
//
// Errors: what is no time or below 0.
//
// Source: as NewModel.
func (m Model) Recovery(time quantity.Quantity) (quantity.Quantity, error) {
	return m.through(func(p parameters, v []quantity.Quantity) (quantity.Quantity, error) {
		t, err := seconds(v[0])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return percent(p.ultimate * (1 - m.form.stays(p, t))), nil
	}, time)
}

func seconds(q quantity.Quantity) (float64, error) {
	t, err := q.Value("s")
	if err != nil || q.IsNothing() || !(t >= 0) || math.IsInf(t, 0) {
		return 0, fmt.Errorf("kinetics: a time is 0 or more, and %v is not", q)
	}
	return t, nil
}

// Time is how long a batch takes to reach a recovery.
//
// Units: recovery as in %; the time in min.
//
// Range: from 0 to below the ultimate recovery.
//
// Errors: a recovery outside that range.
//
// Source: the model solved for time.
func (m Model) Time(recovery quantity.Quantity) (quantity.Quantity, error) {
	return m.solve(recovery, m.form.stays)
}

// solve finds the time, in min, after which the share that stays
// is what a recovery asks for, by halving its logarithm.
func (m Model) solve(recovery quantity.Quantity, stays func(parameters, float64) float64) (quantity.Quantity, error) {
	return m.through(func(p parameters, v []quantity.Quantity) (quantity.Quantity, error) {
		r, err := share(v[0])
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("kinetics: %w", err)
		}
		if r >= p.ultimate {
			return quantity.Quantity{}, fmt.Errorf("kinetics: a recovery of %v is never reached: the ultimate recovery is %.4g %%", v[0], 100*p.ultimate)
		}
		if r == 0 {
			return quantity.Of(0, "min"), nil
		}
		wanted := 1 - r/p.ultimate
		low, high := math.Log(1e-12/p.rate), math.Log(1e300)
		for range 200 {
			middle := (low + high) / 2
			if stays(p, math.Exp(middle)) > wanted {
				low = middle
			} else {
				high = middle
			}
		}
		t := math.Exp((low + high) / 2)
		if t > 1e200 {
			return quantity.Quantity{}, fmt.Errorf("kinetics: a recovery of %v would take longer than can be told", v[0])
		}
		return quantity.Of(t/60, "min"), nil
	}, recovery)
}

// InBank is the recovery in a bank of equal cells, each perfectly mixed. What
// stays is that of the batch, averaged over the residence times of n mixers in
// line:
//
//	R∞·(1 − ∫ stays(t)·t^(n−1)·e^(−t/τ)/(τⁿ·(n−1)!) dt)
//
// which is 1 − (1 + kτ)^−n for FirstOrder.
//
// Units: residence τ is the time in one cell; the recovery in %.
//
// Range: 1 to 1000 cells. Batch rates are those of the laboratory cell; plants
// take rates of a half or so of them, which the package does not do by itself.
//
// Errors: a number of cells out of range, what is no time.
//
// Source: O. Levenspiel, Chemical Reaction Engineering, ch. 11 and 14 (mixers in
// line, segregated flow).
func (m Model) InBank(cells int, residence quantity.Quantity) (quantity.Quantity, error) {
	if cells < 1 || cells > 1000 {
		return quantity.Quantity{}, fmt.Errorf("kinetics: a bank has from 1 to 1000 cells, and %d is none", cells)
	}
	return m.through(func(p parameters, v []quantity.Quantity) (quantity.Quantity, error) {
		t, err := seconds(v[0])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return percent(p.ultimate * (1 - m.form.staysInBank(p, cells, t))), nil
	}, residence)
}

func (f Form) staysInBank(p parameters, cells int, tau float64) float64 {
	x, n := p.rate*tau, float64(cells)
	switch {
	case x == 0:
		return 1
	case f == FirstOrder:
		return math.Pow(1+x, -n)
	case f == Klimpel && cells == 1:
		return math.Log1p(x) / x
	case f == Klimpel:
		return -math.Expm1((1-n)*math.Log1p(x)) / ((n - 1) * x)
	case f == FastSlow:
		return (1-p.slowShare)*math.Pow(1+x, -n) + p.slowShare*math.Pow(1+p.slow*tau, -n)
	}
	factorial, _ := math.Lgamma(n)
	return numeric.Integrate(func(s float64) float64 {
		return f.stays(p, s*tau) * math.Exp((n-1)*math.Log(s)-s-factorial)
	}, 0, n+12*math.Sqrt(n)+40, 60)
}

// BankTime is the residence time in each of so many cells that gives a recovery.
//
// Units: recovery as in %; the time in min, of one cell.
//
// Range: as InBank, below the ultimate recovery.
//
// Errors: as InBank and Time.
//
// Source: InBank solved for τ.
func (m Model) BankTime(cells int, recovery quantity.Quantity) (quantity.Quantity, error) {
	if cells < 1 || cells > 1000 {
		return quantity.Quantity{}, fmt.Errorf("kinetics: a bank has from 1 to 1000 cells, and %d is none", cells)
	}
	return m.solve(recovery, func(p parameters, t float64) float64 { return m.form.staysInBank(p, cells, t) })
}

// String is the model in a line.
func (m Model) String() string {
	if m.form == FastSlow {
		return fmt.Sprintf("%v: ultimate recovery %v, rates %v and, for %v of it, %v", m.form, m.ultimate, m.rate, m.slowShare, m.slow)
	}
	return fmt.Sprintf("%v: ultimate recovery %v, rate %v", m.form, m.ultimate, m.rate)
}
