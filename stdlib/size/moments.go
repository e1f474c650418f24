package size

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Close gives the open classes a bound: nothing is coarser than top, nothing
// finer than bottom. Means and surfaces need it, and depend on it; it is an
// assumption, or a measurement by other means.
//
// Units: top and bottom are lengths.
//
// Range: top above the coarsest sieve, unless nothing stays on that; bottom below
// the finest, unless nothing passes that.
//
// Errors: a top or bottom that is no length above 0 or on the wrong side.
//
// Source: common practice.
func (d Distribution) Close(top, bottom quantity.Quantity) (Distribution, error) {
	last := len(d.openings) - 1
	high, err := top.Value("m")
	if err != nil || !(high > d.metres[0]) && d.weights[0] > 0 {
		return Distribution{}, fmt.Errorf("size: %v stays on the coarsest sieve, so the top size is a length above %v, and %v is not", d.masses[0], d.openings[0], top)
	}
	low, err := bottom.Value("m")
	if err != nil || !(low > 0) || !(low < d.metres[last]) && d.weights[last+1] > 0 {
		return Distribution{}, fmt.Errorf("size: %v passes the finest sieve, so the bottom size is a length above 0 and below %v, and %v is not", d.masses[last+1], d.openings[last], bottom)
	}
	nothing := d.masses[0].Unit().Quantity(0)
	noGrade := percent(math.NaN())
	openings, masses := d.Openings(), d.Masses()
	grades := make([][]quantity.Quantity, len(d.assays))
	for k, a := range d.assays {
		grades[k] = append([]quantity.Quantity(nil), a.grades...)
	}
	if d.weights[0] > 0 {
		openings = append([]quantity.Quantity{top}, openings...)
		masses = append([]quantity.Quantity{nothing}, masses...)
		for k := range grades {
			grades[k] = append([]quantity.Quantity{noGrade}, grades[k]...)
		}
	}
	if d.weights[last+1] > 0 {
		openings, masses = append(openings, bottom), append(masses, nothing)
		for k := range grades {
			grades[k] = append(grades[k], noGrade)
		}
	}
	out, err := New(openings, masses)
	for k, a := range d.assays {
		if err != nil {
			break
		}
		out, err = out.WithAssay(a.name, grades[k])
	}
	out.between = d.between
	return out, err
}

// isClosed is nil if no mass lies in a class without a bound.
func (d Distribution) isClosed(what string) error {
	last := len(d.weights) - 1
	if d.weights[0] > 0 || d.weights[last] > 0 {
		return fmt.Errorf("size: %s needs bounds for all classes; %.3g %% of the mass lies above %v and %.3g %% below %v; state the bounds with Close",
			what, 100*d.shares()[0], d.openings[0], 100*d.shares()[last], d.openings[last-1])
	}
	return nil
}

// over is Σ share · mean of f over the class, the mass of a class being spread
// evenly over its width.
func (d Distribution) over(mean func(low, high float64) float64) float64 {
	shares := d.shares()
	terms := make([]float64, len(shares))
	for i := 1; i < len(shares)-1; i++ {
		if shares[i] > 0 {
			terms[i] = shares[i] * mean(d.metres[i], d.metres[i-1])
		}
	}
	return numeric.Sum(terms...)
}

// Mean is the moment mean of particles of one shape and density,
//
//	D[p,q] = (M(p) / M(q))^(1/(p−q)),  M(k) = ∫ x^(k−3) dQ(x)
//
// with Q the share of mass finer than x: D[4,3] is the mean by mass, D[3,2] the
// surface (Sauter) mean, D[1,0] the mean by number. Within a class the mass is
// spread evenly over its width.
//
// Units: p and q are plain integers; the mean is a length in the unit of the
// coarsest sieve.
//
// Range: nothing in a class without a bound; Close states bounds. Means by number
// hang on the finest sizes.
//
// Errors: p equal to q; mass above the coarsest sieve or in the pan.
//
// Source: ISO 9276-2.
func (d Distribution) Mean(p, q int) (quantity.Quantity, error) {
	if p == q {
		return quantity.Quantity{}, fmt.Errorf("size: D[%d,%d]: the two powers must differ", p, q)
	}
	if err := d.isClosed(fmt.Sprintf("the mean D[%d,%d]", p, q)); err != nil {
		return quantity.Quantity{}, err
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) {
		moment := func(k int) float64 {
			return d.over(func(low, high float64) float64 { return meanPower(low, high, k-3) })
		}
		return metresIn(d.openings[0], math.Pow(moment(p)/moment(q), 1/float64(p-q))), nil
	})
}

// GeometricMean is exp(∫ ln x dQ), the mean of the logarithms of size by mass.
// Within a class the mass is spread evenly over its width.
//
// Units: a length in the unit of the coarsest sieve.
//
// Range: nothing in a class without a bound.
//
// Errors: mass above the coarsest sieve or in the pan.
//
// Source: ISO 9276-2.
func (d Distribution) GeometricMean() (quantity.Quantity, error) {
	if err := d.isClosed("the geometric mean"); err != nil {
		return quantity.Quantity{}, err
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) {
		return metresIn(d.openings[0], math.Exp(d.over(meanLog))), nil
	})
}

// GeometricDeviation is exp of the standard deviation of ln x by mass: 1 for one
// size, 2 where two thirds of the mass lie within a factor of 2 of the median, if
// the distribution is log-normal.
//
// Units: a plain number, 1 or more.
//
// Range: nothing in a class without a bound.
//
// Errors: mass above the coarsest sieve or in the pan.
//
// Source: ISO 9276-5 for the log-normal distribution.
func (d Distribution) GeometricDeviation() (quantity.Quantity, error) {
	if err := d.isClosed("the geometric deviation"); err != nil {
		return quantity.Quantity{}, err
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) {
		centre := d.over(meanLog)
		spread := d.over(func(low, high float64) float64 { return meanSquareLog(low, high, centre) })
		return quantity.Number(math.Exp(math.Sqrt(math.Max(spread, 0)))), nil
	})
}

// meanLog is the mean of ln x over low < x < high.
func meanLog(low, high float64) float64 {
	return (high*math.Log(high)-low*math.Log(low))/(high-low) - 1
}

// meanSquareLog is the mean of (ln x − centre)² over low < x < high.
func meanSquareLog(low, high, centre float64) float64 {
	whole := func(x float64) float64 {
		y := math.Log(x) - centre
		return x * (y*y - 2*y + 2)
	}
	return (whole(high) - whole(low)) / (high - low)
}

// SurfaceMean is the mean size whose particles have the specific surface of the
// whole, 1/∫ dm/d, called the Sauter mean; it is Mean(3, 2). Within a class the
// mass is spread evenly over its width.
//
// Units: a length in the unit of the coarsest sieve.
//
// Range: nothing stays on the coarsest sieve or reaches the pan, where a class
// lacks a bound.
//
// Errors: mass above the coarsest sieve or in the pan.
//
// Source: J.M. Coulson, J.F. Richardson, Chemical Engineering vol. 2, ch. 1.
func (d Distribution) SurfaceMean() (quantity.Quantity, error) {
	if err := d.isClosed("the surface mean"); err != nil {
		return quantity.Quantity{}, err
	}
	return d.Mean(3, 2)
}

// SpecificSurface is the surface of the particles per mass,
//
//	S = 6·k / (ρ·D[3,2])
//
// with the shape factor k: 1 for spheres and cubes, and 1/φ for particles of
// sphericity φ.
//
// Units: density is a mass per volume, shape a plain number; the surface in
// m²/kg.
//
// Range: outer surface of the sizes measured; not that of pores and cracks, which
// gas adsorption finds. Nothing in a class without a bound.
//
// Errors: a density that is none or not above 0; a shape factor below 1; as
// SurfaceMean.
//
// Source: W.L. McCabe, J.C. Smith, P. Harriott, Unit Operations of Chemical
// Engineering, ch. 28.
func (d Distribution) SpecificSurface(density, shape quantity.Quantity) (quantity.Quantity, error) {
	if value, err := density.Value("kg/m3"); err != nil || !(value > 0) {
		return quantity.Quantity{}, fmt.Errorf("size: a density is a mass per volume above 0, and %v is not", density)
	}
	if value, err := shape.Float(); err != nil || !(value >= 1-1e-12) {
		return quantity.Quantity{}, fmt.Errorf("size: the shape factor is 1 for spheres and above 1 for other shapes, and %v is neither", shape)
	}
	mean, err := d.SurfaceMean()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Number(6).Mul(shape).Div(density.Mul(mean)).In("m2/kg")
}

// UniformityCoefficient is Cu = d60/d10, 1 for one size and large where sizes are
// spread.
//
// Units: a plain number.
//
// Range: d10 and d60 lie between the sieves used.
//
// Errors: as D.
//
// Source: A. Hazen (1892); ASTM D2487.
func (d Distribution) UniformityCoefficient() (quantity.Quantity, error) {
	return d.ratio(func(at func(float64) float64) float64 { return at(60) / at(10) }, 10, 60)
}

// CurvatureCoefficient is Cc = d30²/(d10·d60); 1 to 3 in a well graded sand or
// gravel.
//
// Units: a plain number.
//
// Range: d10 and d60 lie between the sieves used.
//
// Errors: as D.
//
// Source: ASTM D2487.
func (d Distribution) CurvatureCoefficient() (quantity.Quantity, error) {
	return d.ratio(func(at func(float64) float64) float64 { return at(30) * at(30) / (at(10) * at(60)) }, 10, 30, 60)
}

// Span is (d90 − d10)/d50, the relative width of the distribution.
//
// Units: a plain number.
//
// Range: d10 and d90 lie between the sieves used.
//
// Errors: as D.
//
// Source: the width that makers of laser instruments print; common practice.
func (d Distribution) Span() (quantity.Quantity, error) {
	return d.ratio(func(at func(float64) float64) float64 { return (at(90) - at(10)) / at(50) }, 10, 50, 90)
}

// ratio is a plain number made of sizes that given percentages pass.
func (d Distribution) ratio(f func(at func(float64) float64) float64, percents ...float64) (quantity.Quantity, error) {
	return d.through(func(d Distribution) (quantity.Quantity, error) {
		metres := map[float64]float64{}
		for _, percent := range percents {
			size, err := d.D(percent)
			if err != nil {
				return quantity.Quantity{}, err
			}
			if metres[percent], err = size.Value("m"); err != nil {
				return quantity.Quantity{}, err
			}
		}
		return quantity.Number(f(func(percent float64) float64 { return metres[percent] })), nil
	})
}

// Densities are the density of the distribution in each class, its share over
// its width, q = ΔQ/Δx, coarsest first. The classes without a bound have none;
// theirs is not a number.
func (d Distribution) Densities() []quantity.Quantity {
	shares := d.Shares()
	for i := range shares {
		width := d.openings[0].Mul(quantity.Number(math.NaN()))
		if i > 0 && i < len(d.openings) {
			width = d.openings[i-1].Sub(d.openings[i])
		}
		shares[i] = shares[i].Div(width)
	}
	return shares
}

// LogDensities are the density of the distribution over the decimal logarithm of
// size, q* = ΔQ/Δlog₁₀x in % per decade, coarsest first. It is what one plots
// over a logarithmic axis so that areas are shares. The classes without a bound
// have none; theirs is not a number.
func (d Distribution) LogDensities() []quantity.Quantity {
	shares := d.Shares()
	for i := range shares {
		decades := math.NaN()
		if i > 0 && i < len(d.openings) {
			decades = math.Log10(d.metres[i-1] / d.metres[i])
		}
		shares[i] = shares[i].Mul(quantity.Number(1 / decades))
	}
	return shares
}
