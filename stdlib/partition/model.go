package partition

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Form is the equation of a partition model.
type Form int

// The forms. x is the size or density, x50 the cut.
const (
	// Whiten is the logistic curve of separations by density,
	// 1/(1 + exp(ln 3·(x50 − x)/Ep)), whose spread is the probable error Ep.
	Whiten Form = iota
	// Gaussian is the normal distribution with the probable error Ep =
	// 0.6745·σ as its spread.
	Gaussian
	// RosinRammler is 1 − exp(−ln 2·(x/x50)^m), with the plain number m as its
	// spread.
	RosinRammler
	// Lynch is the exponential sum (e^(αx/x50) − 1)/(e^(αx/x50) + e^α − 2), with
	// the plain number α as its spread.
	Lynch
)

// forms are all of them, in their order.
var forms = []Form{Whiten, Gaussian, RosinRammler, Lynch}

// String is the name of the form.
func (f Form) String() string {
	switch f {
	case Whiten:
		return "Whiten (logistic)"
	case Gaussian:
		return "Gaussian"
	case RosinRammler:
		return "Rosin–Rammler"
	case Lynch:
		return "Lynch (exponential sum)"
	}
	return fmt.Sprintf("form %d", int(f))
}

// byError reports whether the spread is a probable error, of the kind of the cut.
func (f Form) byError() bool { return f == Whiten || f == Gaussian }

// share is the corrected partition at x.
func (f Form) share(x, cut, spread float64) float64 {
	switch f {
	case Whiten:
		return 1 / (1 + math.Exp(math.Log(3)*(cut-x)/spread))
	case Gaussian:
		return math.Erfc((cut-x)/(spread/quartile)/math.Sqrt2) / 2
	case RosinRammler:
		return -math.Expm1(-math.Ln2 * math.Pow(x/cut, spread))
	}
	// (e^αx − 1)/(e^αx + e^α − 2), divided by e^αx so that nothing overflows.
	x /= cut
	return -math.Expm1(-spread*x) / (1 + math.Exp(spread*(1-x)) - 2*math.Exp(-spread*x))
}

// quartile is the upper quartile of the standard normal distribution.
var quartile = math.Sqrt2 * math.Erfinv(0.5)

// where is the x at which the corrected partition is y.
func (f Form) where(y, cut, spread float64) float64 {
	switch f {
	case Whiten:
		return cut + spread*math.Log(y/(1-y))/math.Log(3)
	case Gaussian:
		return cut + spread/quartile*math.Sqrt2*math.Erfinv(2*y-1)
	case RosinRammler:
		return cut * math.Pow(-math.Log1p(-y)/math.Ln2, 1/spread)
	}
	return cut / spread * math.Log((1+y*(math.Exp(spread)-2))/(1-y))
}

// Model is a partition curve by equation. Make one with NewModel, and give it a
// bypass with WithBypass. Its parameters may be uncertain, and so is then what
// follows from them.
type Model struct {
	form                     Form
	cut, spread              quantity.Quantity
	coarseBypass, fineBypass quantity.Quantity
}

// NewModel is a partition curve of a form with its cut x50 and its spread.
//
// Units: cut is a size or density. For Whiten and Gaussian the spread is the
// probable error, of the kind of the cut; for RosinRammler and Lynch it is the
// plain number m or α.
//
// Range: cut and spread above 0. Whiten and Gaussian give a share above 0 even
// at x = 0.
//
// Errors: a form that is none, a cut that is neither size nor density, a spread
// of another kind, one of them not above 0.
//
// Source: Whiten's form after T.J. Napier-Munn et al. (JKMRC, 1996); Rosin–Rammler,
// L.R. Plitt, CIM Bull. 64 (1971) 42; exponential sum, A.J. Lynch, T.C. Rao, Indian J.
// Technol. 6 (1968) 106; all from memory. Gaussian: common practice.
func NewModel(form Form, cut, spread quantity.Quantity) (Model, error) {
	if form < Whiten || form > Lynch {
		return Model{}, fmt.Errorf("partition: there is no %v", form)
	}
	if _, _, err := position(cut); err != nil {
		return Model{}, fmt.Errorf("partition: the cut: %w", err)
	}
	unit, what := "1", "a plain number"
	if form.byError() {
		unit, what = cut.Unit().String(), "a probable error of the kind of the cut"
	}
	if x, err := spread.Value(unit); err != nil || !(x > 0) || math.IsInf(x, 0) {
		return Model{}, fmt.Errorf("partition: the spread of %v is %s above 0, and %v is not", form, what, spread)
	}
	return Model{form: form, cut: cut, spread: spread, coarseBypass: percent(0), fineBypass: percent(0)}, nil
}

// WithBypass is the model where a share b of every class goes to the coarse or
// heavy product, and a share s to the fine or light one, without being
// classified:
//
//	share = b + (1 − b − s)·corrected
//
// Units: shares, as in %.
//
// Range: each 0 or more, both together below 100 %.
//
// Errors: shares outside that range.
//
// Source: D.F. Kelsall, Trans. Instn Chem. Engrs 31 (1953) 87 (from memory) for
// b; s by the same reasoning.
func (m Model) WithBypass(toCoarse, toFine quantity.Quantity) (Model, error) {
	b, err := shareOf(toCoarse)
	if err != nil {
		return Model{}, fmt.Errorf("partition: bypass to the coarse product: %w", err)
	}
	s, err := shareOf(toFine)
	if err != nil {
		return Model{}, fmt.Errorf("partition: bypass to the fine product: %w", err)
	}
	if b+s >= 1 {
		return Model{}, fmt.Errorf("partition: the bypasses, %v and %v, leave nothing to classify", toCoarse, toFine)
	}
	m.coarseBypass, m.fineBypass = toCoarse, toFine
	return m, nil
}

// Form is the model's equation.
func (m Model) Form() Form { return m.form }

// Cut is x50 of the classified part, the corrected cut, as given.
func (m Model) Cut() quantity.Quantity { return m.cut }

// Spread is Ep, m or α, as given.
func (m Model) Spread() quantity.Quantity { return m.spread }

// Bypass is the shares that go to the coarse or heavy product and to the fine
// or light one unclassified.
func (m Model) Bypass() (toCoarse, toFine quantity.Quantity) { return m.coarseBypass, m.fineBypass }

// Share is the share of particles of one size or density that goes to the
// coarse or heavy product, bypass included.
//
// Units: at is a size or density as the cut is; the share is in %.
//
// Range: at above 0.
//
// Errors: a point of another kind than the cut, or not above 0.
//
// Source: as NewModel and WithBypass.
func (m Model) Share(at quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		if _, _, err := position(v[0]); err != nil {
			return quantity.Quantity{}, fmt.Errorf("partition: %w", err)
		}
		x, err := v[0].Value(v[1].Unit().String())
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("partition: the cut is %v, and %v is of another kind", v[1], v[0])
		}
		return percent(m.total(x, v[1].Shown(), number(v[2], v[1]), fraction(v[3]), fraction(v[4]))), nil
	}, at, m.cut, m.spread, m.coarseBypass, m.fineBypass)
}

// total is the share with both bypasses.
func (m Model) total(x, cut, spread, b, s float64) float64 {
	return b + (1-b-s)*m.form.share(x, cut, spread)
}

// number is a spread: in the unit of the cut if it is of its kind.
func number(spread, cut quantity.Quantity) float64 {
	if x, err := spread.Value(cut.Unit().String()); err == nil {
		return x
	}
	return fraction(spread)
}

// At is where the model, bypass included, reaches a share: At(50 %) is the
// actual cut, which a bypass makes finer than Cut.
//
// Units: share as in %; the result in the unit of the cut.
//
// Range: shares between the bypass b and 1 − s.
//
// Errors: a share outside that range.
//
// Source: the inverse of the model.
func (m Model) At(share quantity.Quantity) (quantity.Quantity, error) {
	if _, err := shareOf(share); err != nil {
		return quantity.Quantity{}, fmt.Errorf("partition: %w", err)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		b, s := fraction(v[3]), fraction(v[4])
		y := (fraction(v[0]) - b) / (1 - b - s)
		if !(y > 0 && y < 1) {
			return quantity.Quantity{}, fmt.Errorf("partition: %v is never reached: with its bypass the curve runs from %.4g %% to %.4g %%", v[0], 100*b, 100*(1-s))
		}
		return v[1].Unit().Quantity(m.form.where(y, v[1].Shown(), number(v[2], v[1]))), nil
	}, share, m.cut, m.spread, m.coarseBypass, m.fineBypass)
}

// ProbableError is Ep = (x75 − x25)/2 of the classified part, in the unit of the
// cut.
func (m Model) ProbableError() quantity.Quantity {
	return m.overQuarters(func(low, high, _ float64, unit quantity.Unit) quantity.Quantity {
		return unit.Quantity((high - low) / 2)
	})
}

// Imperfection is Ep/x50 of the classified part, a plain number.
func (m Model) Imperfection() quantity.Quantity {
	return m.overQuarters(func(low, high, cut float64, _ quantity.Unit) quantity.Quantity {
		return quantity.Number((high - low) / (2 * cut))
	})
}

// Sharpness is x25/x75 of the classified part, a plain number. A broad Whiten or
// Gaussian curve may have its x25 below 0, and then its sharpness is.
func (m Model) Sharpness() quantity.Quantity {
	return m.overQuarters(func(low, high, _ float64, _ quantity.Unit) quantity.Quantity {
		return quantity.Number(low / high)
	})
}

func (m Model) overQuarters(of func(low, high, cut float64, unit quantity.Unit) quantity.Quantity) quantity.Quantity {
	q, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		cut, spread := v[0].Shown(), number(v[1], v[0])
		return of(m.form.where(0.25, cut, spread), m.form.where(0.75, cut, spread), cut, v[0].Unit()), nil
	}, m.cut, m.spread)
	if err != nil {
		panic("partition: " + err.Error()) // NewModel has refused all that could lead here
	}
	return q
}

// String is the model in a line.
func (m Model) String() string {
	text := fmt.Sprintf("%v, cut %v, spread %v", m.form, m.cut, m.spread)
	if fraction(m.coarseBypass) != 0 || fraction(m.fineBypass) != 0 {
		text += fmt.Sprintf(", bypass %v to the coarse and %v to the fine product", m.coarseBypass, m.fineBypass)
	}
	return text
}
