package stream

import (
	"fmt"

	"cobber/stdlib/quantity"
)

// PulpSolids is the per cent solids of a pulp whose density was measured, as with
// a litre can and a balance,
//
//	Cw = ρs·(ρp − ρl) / (ρp·(ρs − ρl))
//
// Units: densities of the pulp, of its dry solids and of its liquid; the result
// is a share of mass in wt%. Uncertain densities give an uncertain share.
//
// Range: no air in the pulp; pulp densities from that of the liquid to that of
// the solids.
//
// Errors: what is no density above 0; solids no denser than the liquid; a pulp
// outside the range.
//
// Source: B.A. Wills, T.J. Napier-Munn, Mineral Processing Technology, 7th ed.,
// ch. 3 (from memory); it follows from volumes adding up.
func PulpSolids(pulp, solids, liquid quantity.Quantity) (quantity.Quantity, error) {
	if err := checkDensities(solids, liquid); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := pulp.Value("kg/m3"); err != nil || pulp.Less(liquid) || solids.Less(pulp) || pulp.IsNaN() {
		return quantity.Quantity{}, fmt.Errorf("stream: the density of a pulp lies from that of its liquid, %v, to that of its solids, %v, and %v does not", liquid, solids, pulp)
	}
	share := solids.Mul(pulp.Sub(liquid)).Div(pulp.Mul(solids.Sub(liquid)))
	return share.To("wt%"), nil
}

// PulpDensityAt is the density of a pulp of a given per cent solids,
//
//	1/ρp = Cw/ρs + (1 − Cw)/ρl      ρp = Cv·ρs + (1 − Cv)·ρl
//
// by mass, and by volume.
//
// Units: percent is a share of mass (% or wt%) or, where its unit is vol%, of
// volume; densities of the dry solids and of the liquid. The result is in g/cm³.
// Uncertain figures give an uncertain density.
//
// Range: 0 to 100 %; no air in the pulp.
//
// Errors: a share outside the range; what is no density above 0; solids no denser
// than the liquid.
//
// Source: volumes add up; common practice.
func PulpDensityAt(percent, solids, liquid quantity.Quantity) (quantity.Quantity, error) {
	if err := checkDensities(solids, liquid); err != nil {
		return quantity.Quantity{}, err
	}
	one := quantity.Number(1)
	if share, err := percent.Value("wt%"); err == nil && share >= 0 && share <= 100 {
		w := percent.To("wt%").To("")
		return one.Div(w.Div(solids).Add(one.Sub(w).Div(liquid))).To("g/cm3"), nil
	}
	if share, err := percent.Value("vol%"); err == nil && share >= 0 && share <= 100 {
		v := percent.To("vol%").To("")
		return v.Mul(solids).Add(one.Sub(v).Mul(liquid)).To("g/cm3"), nil
	}
	return quantity.Quantity{}, fmt.Errorf("stream: per cent solids is a share of mass or of volume from 0 to 100 %%, and %v is not", percent)
}

func checkDensities(solids, liquid quantity.Quantity) error {
	for _, density := range []quantity.Quantity{solids, liquid} {
		if value, err := density.Value("kg/m3"); err != nil || !(value > 0) {
			return fmt.Errorf("stream: a density is a mass per volume above 0, and %v is not", density)
		}
	}
	if !liquid.Less(solids) {
		return fmt.Errorf("stream: solids of %v are no denser than the liquid of %v; these relations do not tell them apart", solids, liquid)
	}
	return nil
}

// DryRate is the rate of dry solids in a wet one, such as that of a belt scale,
//
//	dry = wet·(1 − moisture)
//
// Units: wet is a mass or mass flow; moisture a share of the wet mass, as trade
// states it. The result is in the unit of wet. Uncertain figures give an
// uncertain rate.
//
// Range: moisture from 0 to below 100 % of the wet mass; MoistureOfWet tells one
// stated of the dry mass, as soil laboratories do, on this basis.
//
// Errors: moisture that is no share of mass or outside the range; a rate that is no
// mass or mass flow, below 0 or not a number.
//
// Source: the definition of moisture on the wet basis; common practice.
func DryRate(wet, moisture quantity.Quantity) (quantity.Quantity, error) {
	_, isMass := wet.Value("kg")
	if _, isFlow := wet.Value("kg/s"); isMass != nil && isFlow != nil || !(wet.Shown() >= 0) {
		return quantity.Quantity{}, fmt.Errorf("stream: a wet rate is a mass or a mass flow, 0 or above, and %v is not", wet)
	}
	share, err := moisture.Value("wt%")
	if err != nil || !(share >= 0 && share < 100) {
		return quantity.Quantity{}, fmt.Errorf("stream: moisture is a share of the wet mass from 0 to below 100 %%, and %v is not; if it is told of the dry mass, convert it with MoistureOfWet", moisture)
	}
	return wet.Mul(quantity.Number(1).Sub(moisture.To("wt%").To(""))), nil
}

// MoistureOfWet is the moisture as a share of the wet mass, from one told of the
// dry mass,
//
//	w = u / (1 + u)
//
// Units: shares of mass; the result is in %.
//
// Range: 0 or above; a water content of the dry mass may exceed 100 %.
//
// Errors: a content that is no share of mass or is below 0.
//
// Source: water content of the dry mass is the definition of ASTM D2216 and ISO
// 17892-1; the conversion follows.
func MoistureOfWet(ofDry quantity.Quantity) (quantity.Quantity, error) {
	share, err := ofDry.Value("wt%")
	if err != nil || !(share >= 0) {
		return quantity.Quantity{}, fmt.Errorf("stream: a water content is a share of the dry mass, 0 or above, and %v is not", ofDry)
	}
	u := ofDry.To("wt%").To("")
	return u.Div(quantity.Number(1).Add(u)).To("%"), nil
}
