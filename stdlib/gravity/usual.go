package gravity

import "cobber/stdlib/quantity"

// Jig is a separator with usual figures of a jig in water for coarse grains, cut
// at a density: imperfection 0.17, grains of 0.5 to 50 mm, a tenth of the water with
// the heavies. They are figures from memory, to begin with; put those of a test in
// their place.
func Jig(cut quantity.Quantity) Separator {
	return Separator{Cut: cut, Imperfection: quantity.Number(0.17), Size: quantity.Of(10, "mm"), ErrorExponent: quantity.Number(0.3),
		CutExponent: quantity.Number(0.1), Finest: quantity.Of(0.5, "mm"), Coarsest: quantity.Of(50, "mm"), Water: quantity.Of(10, "%")}
}

// Spiral is a separator with usual figures of a spiral concentrator: imperfection
// 0.2, grains of 0.075 to 2 mm, a sixth of the water with the heavies. They are
// figures from memory, to begin with; put those of a test in their place.
func Spiral(cut quantity.Quantity) Separator {
	return Separator{Cut: cut, Imperfection: quantity.Number(0.20), Size: quantity.Of(0.3, "mm"), ErrorExponent: quantity.Number(0.3),
		CutExponent: quantity.Number(0.2), Finest: quantity.Of(0.075, "mm"), Coarsest: quantity.Of(2, "mm"), Water: quantity.Of(16, "%")}
}

// ShakingTable is a separator with usual figures of a shaking table: imperfection
// 0.12, grains of 0.03 to 2 mm, a twentieth of the water with the heavies. They are
// figures from memory, to begin with; put those of a test in their place.
func ShakingTable(cut quantity.Quantity) Separator {
	return Separator{Cut: cut, Imperfection: quantity.Number(0.12), Size: quantity.Of(0.3, "mm"), ErrorExponent: quantity.Number(0.4),
		CutExponent: quantity.Number(0.2), Finest: quantity.Of(0.03, "mm"), Coarsest: quantity.Of(2, "mm"), Water: quantity.Of(5, "%")}
}

// DenseMedium is a separator with usual figures of a dense-medium bath or cyclone
// run at the density of its medium: a probable error of 0.04 g/cm³, in the middle of
// the 0.03 to 0.05 reported for cyclones (University of Kentucky, mng_etds/19),
// grains above 0.5 mm, half of the medium with the heavies. A cyclone cuts somewhat
// above its medium's density: state that density as cut.
func DenseMedium(cut quantity.Quantity) Separator {
	return Separator{Cut: cut, ProbableError: quantity.Of(0.04, "g/cm3"), Fluid: cut, Size: quantity.Of(5, "mm"), ErrorExponent: quantity.Number(0.5),
		Finest: quantity.Of(0.5, "mm"), Water: quantity.Of(50, "%")}
}
