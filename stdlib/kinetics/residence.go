package kinetics

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// CellTime is the residence time of pulp in a cell,
//
//	τ = V·(1 − g)/Q
//
// Units: volume of the cell; gas its share of the volume, as in %; flow of pulp, a
// volume per time. The time in min.
//
// Range: gas from 0 to below 100 %; froth counted as gas.
//
// Errors: quantities of another kind or out of range.
//
// Source: the definition of a mean residence time.
func CellTime(volume, gas, flow quantity.Quantity) (quantity.Quantity, error) {
	if v, err := volume.Value("m³"); err != nil || !(v > 0) {
		return quantity.Quantity{}, fmt.Errorf("kinetics: the volume is above 0, as in m³, and %v is not", volume)
	}
	if q, err := flow.Value("m³/s"); err != nil || !(q > 0) {
		return quantity.Quantity{}, fmt.Errorf("kinetics: the flow is a volume per time above 0, and %v is not", flow)
	}
	if g := gas.SI(); !gas.Dimension().IsOne() || !(g >= 0 && g < 1) {
		return quantity.Quantity{}, fmt.Errorf("kinetics: the share of gas lies from 0 to below 100 %%, and %v does not", gas)
	}
	pulp := quantity.Number(1).Sub(quantity.Number(1).Mul(gas).To("1"))
	return volume.Mul(pulp).Div(flow).To("min"), nil
}

// Residence is what a tracer test says of a vessel. Make one with Tracer.
type Residence struct {
	Mean     quantity.Quantity // τ, in the unit of the times
	Variance quantity.Quantity // σ²
	Mixers   float64           // τ²/σ², the perfectly mixed vessels in line that spread a pulse alike
}

// Tracer is the residence time from the answer to a pulse: concentrations c at
// the outlet at times t,
//
//	τ = ∫t·c dt/∫c dt,  σ² = ∫(t − τ)²·c dt/∫c dt
//
// by trapezia.
//
// Units: times; concentrations of one kind, less their background.
//
// Range: the whole pulse, until concentrations are back at 0; a tail cut off makes
// τ too short.
//
// Errors: lengths that differ, fewer than three readings, times that do not rise,
// concentrations below 0 or of unlike kinds, none above 0; a last concentration
// above a tenth of the highest, which says that the tail is missing.
//
// Source: O. Levenspiel, Chemical Reaction Engineering, ch. 11 and 14.
func Tracer(times, concentrations []quantity.Quantity) (Residence, error) {
	if len(times) != len(concentrations) || len(times) < 3 {
		return Residence{}, fmt.Errorf("kinetics: a tracer test needs three readings at least, each a time and a concentration; there are %d times and %d concentrations", len(times), len(concentrations))
	}
	unit, kind := times[0].Unit(), concentrations[0].Unit().String()
	var ts, cs []float64
	highest := 0.0
	for i := range times {
		if _, err := times[i].Value("s"); err != nil {
			return Residence{}, fmt.Errorf("kinetics: reading %d: %v is no time", i+1, times[i])
		}
		t, err := times[i].Value(unit.String())
		if err != nil || i > 0 && !(t > ts[i-1]) {
			return Residence{}, fmt.Errorf("kinetics: reading %d: times rise, and %v does not", i+1, times[i])
		}
		c, err := concentrations[i].Value(kind)
		if err != nil || !(c >= 0) {
			return Residence{}, fmt.Errorf("kinetics: reading %d: a concentration of the kind of %v, 0 or more, and %v is none", i+1, concentrations[0], concentrations[i])
		}
		ts, cs, highest = append(ts, t), append(cs, c), max(highest, c)
	}
	if highest == 0 {
		return Residence{}, fmt.Errorf("kinetics: no tracer came out")
	}
	if last := cs[len(cs)-1]; last > highest/10 {
		return Residence{}, fmt.Errorf("kinetics: the last concentration, %v, is still above a tenth of the highest: the tail is missing", concentrations[len(cs)-1])
	}
	area := trapezia(ts, func(i int) float64 { return cs[i] })
	mean := trapezia(ts, func(i int) float64 { return ts[i] * cs[i] }) / area
	variance := trapezia(ts, func(i int) float64 { return math.Pow(ts[i]-mean, 2) * cs[i] }) / area
	return Residence{
		Mean:     unit.Quantity(mean),
		Variance: unit.Quantity(1).Pow(2, 1).Mul(quantity.Number(variance)),
		Mixers:   mean * mean / variance,
	}, nil
}

func trapezia(ts []float64, of func(int) float64) float64 {
	sum := 0.0
	for i := 1; i < len(ts); i++ {
		sum += (of(i) + of(i-1)) / 2 * (ts[i] - ts[i-1])
	}
	return sum
}
