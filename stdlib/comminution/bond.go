package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Bond is the energy per mass by Bond's law,
//
//	W = Wi·(√(100 µm/P) − √(100 µm/F))
//
// which with W and Wi per the same ton and sizes in µm is 10·Wi·(1/√P − 1/√F).
//
// Units: the work index Wi is an energy per mass; F (feed) and P (product) are the
// sizes that 80 % passes. The energy comes in the unit of Wi, so that an index per
// short ton gives energy per short ton.
//
// Range: P below F; made for F up to some 25 mm and P down to some 0.1 mm. What a
// mill of other size, dry or in open circuit takes besides says Duty.
//
// Errors: a work index without unit, or not above 0; a product not finer than the
// feed.
//
// Source: F.C. Bond, Trans. AIME 193 (1952) 484; Brit. Chem. Eng. 6 (1961) 378.
func Bond(workIndex, feed, product quantity.Quantity) (quantity.Quantity, error) {
	law, err := BondLaw(workIndex)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return law.Energy(feed, product)
}

// OperatingWorkIndex is the work index that a running mill shows,
//
//	Wio = W/(√(100 µm/P) − √(100 µm/F))
//
// Compared with that of the laboratory it says how well the mill uses its energy.
//
// Units: energy per mass, in whose unit the index comes; sizes that 80 % passes.
//
// Range: P below F.
//
// Errors: as Bond.
//
// Source: C.A. Rowland, The Bond work index, a tool to measure grinding efficiency,
// SME-AIME Fall Meeting (1976).
func OperatingWorkIndex(energy, feed, product quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		e, err := energyPerMass(v[0], "energy")
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, p, err := sizes(v[1], v[2])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return inUnitOf(e/(math.Sqrt(1e-4/p)-math.Sqrt(1e-4/f)), perMass, v[0]), nil
	}, energy, feed, product)
}

// Grindability is a laboratory test by Bond's procedure: grams of new undersize per
// turn of the mill, what the test sieve is, and what feed and product passed.
type Grindability struct {
	PerTurn       quantity.Quantity // mass of new undersize per revolution; a plain number is in grams
	Sieve         quantity.Quantity // opening of the test sieve
	Feed, Product quantity.Quantity // sizes that 80 % passes
}

// BallWorkIndex is the work index of a grindability test in Bond's ball mill, wet
// and in closed circuit in a mill of 2.44 m,
//
//	Wi = 44.5/(P1^0.23·G^0.82·(10/√P − 10/√F))  kWh/st
//
// with sizes in µm and G in grams per turn.
//
// Units: as Grindability; the index in kWh/st, as the constant has it. To("kWh/t")
// tells it per metric tonne.
//
// Range: test sieves from 28 to 500 µm.
//
// Errors: quantities of another kind or not above 0, a sieve outside the range, a
// product not finer than the feed.
//
// Source: F.C. Bond, Brit. Chem. Eng. 6 (1961) 378 and 543 (constants from memory).
func BallWorkIndex(test Grindability) (quantity.Quantity, error) {
	return grindability(test, 44.5, 0.82, 28e-6, 500e-6)
}

// RodWorkIndex is the work index of a grindability test in Bond's rod mill,
//
//	Wi = 62/(P1^0.23·G^0.625·(10/√P − 10/√F))  kWh/st
//
// Units: as BallWorkIndex.
//
// Range: test sieves from 0.2 to 4.8 mm.
//
// Errors: as BallWorkIndex.
//
// Source: as BallWorkIndex.
func RodWorkIndex(test Grindability) (quantity.Quantity, error) {
	return grindability(test, 62, 0.625, 200e-6, 4800e-6)
}

func grindability(test Grindability, constant, power, low, high float64) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		grams, err := v[0].Float()
		if err != nil {
			if grams, err = positive(v[0], "g", "undersize per turn"); err != nil {
				return quantity.Quantity{}, err
			}
		}
		if !(grams > 0) {
			return quantity.Quantity{}, fmt.Errorf("comminution: the undersize per turn is above 0, and %v is not", v[0])
		}
		sieve, err := positive(v[1], length, "test sieve")
		if err != nil {
			return quantity.Quantity{}, err
		}
		if sieve < low || sieve > high {
			return quantity.Quantity{}, fmt.Errorf("comminution: the test holds for sieves from %.3g to %.3g µm, and %v is outside", low*1e6, high*1e6, v[1])
		}
		f, p, err := sizes(v[2], v[3])
		if err != nil {
			return quantity.Quantity{}, err
		}
		steps := 10/math.Sqrt(p*1e6) - 10/math.Sqrt(f*1e6)
		return quantity.Of(constant/(math.Pow(sieve*1e6, 0.23)*math.Pow(grams, power)*steps), "kWh/st"), nil
	}, test.PerTurn, test.Sieve, test.Feed, test.Product)
}

// CrushingWorkIndex is the work index of Bond's impact crushing test,
//
//	Wi = 2.59·C/ρ  kWh/st
//
// with C in ft·lbf per inch of thickness and ρ relative to water.
//
// Units: strength C is an energy per length of rock, as in ft·lbf/in or J/mm;
// density; the index in kWh/st.
//
// Range: both above 0.
//
// Errors: quantities of another kind or not above 0.
//
// Source: F.C. Bond, Trans. AIME 169 (1946) 58; 2.59 from memory. The metric form of
// the trade, 53.49·C/ρ in kWh/t with J/mm, is the same to 2 in 10⁴.
func CrushingWorkIndex(strength, density quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		c, err := positive(v[0], "J/m", "impact strength")
		if err != nil {
			return quantity.Quantity{}, err
		}
		density, err := positive(v[1], "kg/m³", "density")
		if err != nil {
			return quantity.Quantity{}, err
		}
		const footPoundPerInch = 4.4482216152605 * 12 // J/m
		return quantity.Of(2.59*c/footPoundPerInch/(density/1000), "kWh/st"), nil
	}, strength, density)
}

// Morrell is the energy per mass by Morrell's law, whose exponent falls with size,
//
//	W = 4·M·(P^f(P) − F^f(F)),  f(x) = −(0.295 + x/10⁶)
//
// with sizes in µm.
//
// Units: the index M is an energy per mass, in whose unit the energy comes; sizes
// that 80 % passes.
//
// Range: 0.1 mm to 100 mm, the tumbling mills it was fitted to. M is one index for
// grinding coarser than 0.75 mm, another for finer; a reduction across 0.75 mm is the
// sum of two.
//
// Errors: an index without unit; a product not finer than the feed; sizes above
// 200 mm, where the exponent has no meaning, or below 0.02 mm.
//
// Source: S. Morrell, Int. J. Miner. Process. 74 (2004) 133; 86 (2008) (form and
// constants from memory).
func Morrell(index, feed, product quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		m, err := energyPerMass(v[0], "index")
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, p, err := sizes(v[1], v[2])
		if err != nil {
			return quantity.Quantity{}, err
		}
		if f > 0.2 || p < 20e-6 {
			return quantity.Quantity{}, fmt.Errorf("comminution: Morrell's law holds from 0.02 to 200 mm, and %v to %v leaves that", v[1], v[2])
		}
		term := func(x float64) float64 { return math.Pow(x*1e6, -(0.295 + x)) }
		return inUnitOf(4*m*(term(p)-term(f)), perMass, v[0]), nil
	}, index, feed, product)
}
