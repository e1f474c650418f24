package quantity

import "fmt"

// Dry is the dry part of a wet mass or flow, in dry tonnes:
// wet × (1 - moisture), moisture being the mass of water over that of all. What
// is in plain tonnes counts as wet. The error is for a moisture outside 0 to
// less than 1, and for what is dry already.
func Dry(wet, moisture Quantity) (Quantity, error) {
	solids, err := solidsFactor("Dry", moisture)
	if err != nil {
		return Quantity{}, err
	}
	if wet.Unit().real().basis == "dry" {
		return Quantity{}, fmt.Errorf("Dry: %s is dry already", wet)
	}
	return wet.massTimes("Dry", solids)
}

// Wet is the wet mass or flow that holds a dry one, in wet tonnes:
// dry ÷ (1 - moisture). What is in plain tonnes counts as dry. The error is for a
// moisture outside 0 to less than 1, and for what is wet already.
func Wet(dry, moisture Quantity) (Quantity, error) {
	solids, err := solidsFactor("Wet", moisture)
	if err != nil {
		return Quantity{}, err
	}
	if dry.Unit().real().basis == "wet" {
		return Quantity{}, fmt.Errorf("Wet: %s is wet already", dry)
	}
	return dry.massTimes("Wet", Number(1).Div(solids))
}

// solidsFactor is the dry mass over the wet one.
func solidsFactor(name string, moisture Quantity) (Quantity, error) {
	m, err := moisture.InUnit(Unit{one})
	if err != nil {
		return Quantity{}, fmt.Errorf("%s: moisture: %w", name, err)
	}
	if !(m.val() >= 0 && m.val() < 1) {
		return Quantity{}, fmt.Errorf("%s: a moisture of %s cannot be used; it is from 0 to less than 100 %%, of the wet mass", name, moisture)
	}
	return Number(1).Sub(m).Mul(Of(1, "dmt/wmt")), nil
}

func (q Quantity) massTimes(name string, factor Quantity) (Quantity, error) {
	if q.Unit().IsReading() || q.unit == nil {
		return Quantity{}, fmt.Errorf("%s: %s is no mass or flow of mass", name, q)
	}
	r := q.Mul(factor)
	if r.unit.mixed || len(r.unit.terms) != len(q.unit.terms) {
		return Quantity{}, fmt.Errorf("%s: %s is no mass or flow of mass", name, q)
	}
	return r, nil
}
