package quantity

import (
	"math"
	"slices"
)

// panels is into how many pieces a density is cut to find its quantiles: enough
// that quantiles are right to some ten digits for densities as smooth as those
// used here.
const panels = 20000

// quantilesOf solves CDF(x) = p for each p, for a density on [low, high] known
// up to a factor. The area is summed by Simpson's rule; inside a panel, whose
// density is near linear, the quadratic for the area is solved.
func quantilesOf(density func(float64) float64, low, high float64, ps []float64) []float64 {
	width := (high - low) / panels
	heights := make([]float64, panels+1)
	area := make([]float64, panels+1)
	heights[0] = density(low)
	for i := range panels {
		left := low + float64(i)*width
		heights[i+1] = density(left + width)
		area[i+1] = area[i] + width/6*(heights[i]+4*density(left+width/2)+heights[i+1])
	}
	out := make([]float64, len(ps))
	for k, p := range ps {
		target := p * area[panels]
		i, _ := slices.BinarySearch(area, target)
		i = min(max(i-1, 0), panels-1)
		rest, a, b := target-area[i], heights[i], heights[i+1]
		// The trapezium of the panel is scaled to the area by Simpson's rule.
		if piece := area[i+1] - area[i]; piece > 0 && a+b > 0 {
			rest *= width * (a + b) / 2 / piece
		}
		within := width / 2
		if root := a*a + 2*rest*(b-a)/width; root >= 0 && a+math.Sqrt(root) > 0 {
			within = 2 * rest / (a + math.Sqrt(root))
		}
		out[k] = low + (float64(i)+min(max(within/width, 0), 1))*width
	}
	return out
}

func normalQuantile(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }

// studentQuantiles are those of Student's t with the given degrees of freedom:
// of t = √ν tan θ, where the density of θ is cos^(ν-1) θ.
func studentQuantiles(freedom float64, ps []float64) []float64 {
	out := quantilesOf(func(angle float64) float64 {
		return math.Pow(max(math.Cos(angle), 0), freedom-1)
	}, -math.Pi/2, math.Pi/2, ps)
	for i, angle := range out {
		out[i] = math.Sqrt(freedom) * math.Tan(angle)
	}
	return out
}

// coverage is the factor k for which ±k standard uncertainties hold the given
// share, with the given degrees of freedom.
func coverage(level, freedom float64) float64 {
	p := (1 + level) / 2
	if freedom > 1e6 {
		return normalQuantile(p)
	}
	return studentQuantiles(freedom, []float64{p})[0]
}

// gammaQuantiles are those of the gamma distribution with shape a and scale 1:
// of x = s², where the density of s is s^(2a-1) e^(-s²).
func gammaQuantiles(a float64, ps []float64) []float64 {
	peak := math.Sqrt(a - 0.5)
	top := (2*a - 1) * math.Log(max(peak, 1e-300))
	out := quantilesOf(func(s float64) float64 {
		if s <= 0 {
			return 0
		}
		return math.Exp((2*a-1)*math.Log(s) - s*s - top + peak*peak)
	}, max(0, peak-6), peak+6, ps)
	for i, s := range out {
		out[i] = s * s
	}
	return out
}

// betaQuantiles are those of the beta distribution, for a and b of 1 or more:
// of x = sin²θ, where the density of θ is sin^(2a-1) cos^(2b-1).
func betaQuantiles(a, b float64, ps []float64) []float64 {
	peak := math.Atan2(math.Sqrt(a), math.Sqrt(b))
	log := func(angle float64) float64 {
		return (2*a-1)*math.Log(math.Sin(angle)) + (2*b-1)*math.Log(math.Cos(angle))
	}
	top, half := log(peak), 6/math.Sqrt(a+b)
	out := quantilesOf(func(angle float64) float64 {
		if angle <= 0 || angle >= math.Pi/2 {
			return 0
		}
		return math.Exp(log(angle) - top)
	}, max(0, peak-half), min(math.Pi/2, peak+half), ps)
	for i, angle := range out {
		out[i] = math.Sin(angle) * math.Sin(angle)
	}
	return out
}
