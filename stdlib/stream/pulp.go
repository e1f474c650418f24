package stream

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// volume is the volume flow of the solids, m³/s.
func (s Stream) volume() (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	densities, err := s.classes.densities()
	if err != nil {
		return 0, err
	}
	var total float64
	n := len(densities)
	for at, flow := range s.flows {
		total += flow / densities[at%n]
	}
	return total, nil
}

// SolidsDensity is the density of the dry solids without pores,
//
//	ρs = Σ flow / Σ (flow/ρ)
//
// Units: a mass per volume, in g/cm³.
//
// Range: densities at the middle of the minerals' ranges.
//
// Errors: a stream without solids; a mineral without a density.
//
// Source: volumes add up; common practice.
func (s Stream) SolidsDensity() (quantity.Quantity, error) {
	if err := s.hasSolids("density of solids"); err != nil {
		return quantity.Quantity{}, err
	}
	volume, err := s.volume()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(s.solids()/volume, "kg/m3").To("g/cm3"), nil
}

// PercentSolids is the mass share of the solids in the pulp,
//
//	Cw = solids / (solids + water)
//
// Units: a share of mass, in %.
//
// Range: 100 % for a dry stream.
//
// Errors: a stream with neither solids nor water.
//
// Source: the definition; common practice.
func (s Stream) PercentSolids() (quantity.Quantity, error) {
	if err := s.check(); err != nil {
		return quantity.Quantity{}, err
	}
	solids := s.solids()
	if solids+s.water == 0 {
		return quantity.Quantity{}, fmt.Errorf("stream: %s: there are neither solids nor water, so there is no per cent solids", s.name)
	}
	return quantity.Of(100*solids/(solids+s.water), "wt%"), nil
}

// PercentSolidsByVolume is the share of the solids in the volume of the pulp,
//
//	Cv = (solids/ρs) / (solids/ρs + water/ρ)
//
// Units: a share of volume, in vol%.
//
// Range: 100 % for a dry stream; water at 1000 kg/m³.
//
// Errors: a stream with neither solids nor water; a mineral without a density.
//
// Source: the definition; common practice.
func (s Stream) PercentSolidsByVolume() (quantity.Quantity, error) {
	solids, err := s.volume()
	if err != nil {
		return quantity.Quantity{}, err
	}
	whole := solids + s.water/waterDensity
	if whole == 0 {
		return quantity.Quantity{}, fmt.Errorf("stream: %s: there are neither solids nor water, so there is no per cent solids", s.name)
	}
	return quantity.Of(100*solids/whole, "vol%"), nil
}

// PulpDensity is the density of solids and water together,
//
//	ρp = (solids + water) / (solids/ρs + water/ρ)
//
// Units: a mass per volume, in g/cm³.
//
// Range: no air in the pulp; water at 1000 kg/m³.
//
// Errors: a stream with neither solids nor water; a mineral without a density.
//
// Source: volumes add up; common practice.
func (s Stream) PulpDensity() (quantity.Quantity, error) {
	solids, err := s.volume()
	if err != nil {
		return quantity.Quantity{}, err
	}
	whole := solids + s.water/waterDensity
	if whole == 0 {
		return quantity.Quantity{}, fmt.Errorf("stream: %s: there are neither solids nor water, so there is no pulp density", s.name)
	}
	return quantity.Of((s.solids()+s.water)/whole, "kg/m3").To("g/cm3"), nil
}

// VolumeFlow is the volume flow of solids and water together.
//
// Units: a volume per time, in m³/h.
//
// Range: no air in the pulp, no pores between dry solids; water at 1000 kg/m³.
//
// Errors: a mineral without a density.
//
// Source: volumes add up; common practice.
func (s Stream) VolumeFlow() (quantity.Quantity, error) {
	solids, err := s.volume()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(solids+s.water/waterDensity, "m3/s").To("m3/h"), nil
}

// WithWater is the stream with another flow of water.
//
// Units: a mass flow, or a volume flow taken at 1000 kg/m³.
//
// Range: 0 or above.
//
// Errors: water that is no flow or below 0.
//
// Source: common practice.
func (s Stream) WithWater(water quantity.Quantity) (Stream, error) {
	flow, err := waterFlow(s.name, water)
	if err != nil {
		return Stream{}, err
	}
	s.water = flow
	return s, s.check()
}

// WaterFor is the water a stream of these solids holds at a wanted per cent
// solids,
//
//	water = solids · (1/C − 1)
//
// by mass, and by volume with the solids' own density.
//
// Units: percent is a share of mass (% or wt%) or, where its unit is vol%, of
// volume; the water is a mass flow.
//
// Range: above 0 and at most 100 %.
//
// Errors: a share outside the range; a stream without solids; by volume also a
// mineral without a density.
//
// Source: the definition of per cent solids; common practice.
func (s Stream) WaterFor(percent quantity.Quantity) (quantity.Quantity, error) {
	flow, err := s.waterFor(percent)
	return s.rate(flow), err
}

func (s Stream) waterFor(percent quantity.Quantity) (float64, error) {
	if err := s.hasSolids("water for a per cent solids"); err != nil {
		return 0, err
	}
	share, err := percent.Value("wt%")
	solids := s.solids()
	if err != nil {
		if share, err = percent.Value("vol%"); err != nil {
			return 0, fmt.Errorf("stream: %s: per cent solids is a share of mass or of volume, and %v is not", s.name, percent)
		}
		volume, err := s.volume()
		if err != nil {
			return 0, err
		}
		solids = volume * waterDensity
	}
	if !(share > 0 && share <= 100) || math.IsInf(share, 0) {
		return 0, fmt.Errorf("stream: %s: per cent solids lies above 0 and at most at 100 %%, and %v does not", s.name, percent)
	}
	return solids * (100/share - 1), nil
}

// DilutionWater is the water to add so that the stream comes down to a wanted per
// cent solids.
//
// Units: as WaterFor.
//
// Range: as WaterFor.
//
// Errors: as WaterFor; a stream that is thinner already, which must be thickened.
//
// Source: the definition of per cent solids; common practice.
func (s Stream) DilutionWater(percent quantity.Quantity) (quantity.Quantity, error) {
	flow, err := s.waterFor(percent)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if flow < s.water*(1-closureTolerance) {
		return quantity.Quantity{}, fmt.Errorf("stream: %s: at %v solids there would be %.4g of water, and there are %.4g; it must be thickened, not diluted", s.name, percent, s.rate(flow), s.Water())
	}
	return s.rate(max(flow-s.water, 0)), nil
}
