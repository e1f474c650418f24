package size

import "math"

// law is a form that size distributions are described by. Its parameters are
// numbers in one unit of length, or plain.
type law struct {
	name       string
	equation   string
	parameters []parameter
	passing    func(p []float64, x float64) float64     // the share finer than x
	size       func(p []float64, share float64) float64 // the inverse
	slope      func(p []float64, x float64) float64     // of passing by x
	wrong      func(p []float64) string                 // what is wrong with parameters; empty if nothing
	starts     func(x, share []float64) [][]float64     // parameters a fit may start from
}

type parameter struct {
	name     string
	isLength bool
}

var rosinRammler = &law{
	name: "Rosin–Rammler", equation: "P = 1 − exp(−(x/x')^n)",
	parameters: []parameter{{"size x' (63.2 % passing)", true}, {"exponent n", false}},
	passing:    func(p []float64, x float64) float64 { return -math.Expm1(-math.Pow(x/p[0], p[1])) },
	size:       func(p []float64, share float64) float64 { return p[0] * math.Pow(-math.Log1p(-share), 1/p[1]) },
	slope: func(p []float64, x float64) float64 {
		return p[1] / x * math.Pow(x/p[0], p[1]) * math.Exp(-math.Pow(x/p[0], p[1]))
	},
	wrong: allAboveZero,
	starts: func(x, share []float64) [][]float64 {
		n, offset := line(x, share, math.Log, func(p float64) float64 { return math.Log(-math.Log1p(-p)) })
		return [][]float64{{math.Exp(-offset / n), n}}
	},
}

var gatesGaudinSchuhmann = &law{
	name: "Gates–Gaudin–Schuhmann", equation: "P = (x/k)^m up to x = k",
	parameters: []parameter{{"top size k", true}, {"exponent m", false}},
	passing: func(p []float64, x float64) float64 {
		if x >= p[0] {
			return 1
		}
		return math.Pow(x/p[0], p[1])
	},
	size: func(p []float64, share float64) float64 { return p[0] * math.Pow(share, 1/p[1]) },
	slope: func(p []float64, x float64) float64 {
		if x > p[0] {
			return 0
		}
		return p[1] / x * math.Pow(x/p[0], p[1])
	},
	wrong: allAboveZero,
	starts: func(x, share []float64) [][]float64 {
		m, offset := line(x, share, math.Log, math.Log)
		k := math.Exp(-offset / m)
		return [][]float64{{k, m}, {math.Max(k, 1.05*x[0]), m}}
	},
}

var logNormal = &law{
	name: "log-normal", equation: "P = N(ln(x/x50)/ln s), N the normal distribution",
	parameters: []parameter{{"median x50", true}, {"geometric deviation s", false}},
	passing: func(p []float64, x float64) float64 {
		return 0.5 * math.Erfc(-math.Log(x/p[0])/math.Log(p[1])/math.Sqrt2)
	},
	size: func(p []float64, share float64) float64 { return p[0] * math.Pow(p[1], normalQuantile(share)) },
	slope: func(p []float64, x float64) float64 {
		z := math.Log(x/p[0]) / math.Log(p[1])
		return math.Exp(-z*z/2) / (math.Sqrt(2*math.Pi) * math.Log(p[1]) * x)
	},
	wrong: func(p []float64) string {
		if !(p[1] > 1) {
			return "the geometric deviation is above 1"
		}
		return allAboveZero(p)
	},
	starts: func(x, share []float64) [][]float64 {
		slope, offset := line(x, share, math.Log, normalQuantile)
		return [][]float64{{math.Exp(-offset / slope), math.Exp(1 / slope)}}
	},
}

var swebrec = &law{
	name: "Swebrec", equation: "P = 1/(1 + (ln(xmax/x)/ln(xmax/x50))^b) up to x = xmax",
	parameters: []parameter{{"top size xmax", true}, {"median x50", true}, {"exponent b", false}},
	passing: func(p []float64, x float64) float64 {
		if x >= p[0] {
			return 1
		}
		return 1 / (1 + math.Pow(math.Log(p[0]/x)/math.Log(p[0]/p[1]), p[2]))
	},
	size: func(p []float64, share float64) float64 {
		return p[0] * math.Pow(p[1]/p[0], math.Pow(1/share-1, 1/p[2]))
	},
	slope: func(p []float64, x float64) float64 {
		if x >= p[0] {
			return 0
		}
		f, whole := math.Log(p[0]/x)/math.Log(p[0]/p[1]), math.Log(p[0]/p[1])
		q := 1 + math.Pow(f, p[2])
		return p[2] * math.Pow(f, p[2]-1) / (q * q * x * whole)
	},
	wrong: func(p []float64) string {
		if !(p[1] < p[0]) {
			return "the median lies below the top size"
		}
		return allAboveZero(p)
	},
	starts: func(x, share []float64) [][]float64 {
		slope, offset := line(x, share, math.Log, normalQuantile)
		median := math.Exp(-offset / slope)
		var all [][]float64
		for _, top := range []float64{1.1, 1.5, 3, 10} {
			for _, b := range []float64{1.5, 3} {
				all = append(all, []float64{top * math.Max(x[0], median), median, b})
			}
		}
		return all
	},
}

func allAboveZero(p []float64) string {
	for _, value := range p {
		if !(value > 0) || math.IsInf(value, 0) {
			return "a parameter is above 0"
		}
	}
	return ""
}

// normalQuantile is where the standard normal distribution has a given share
// below.
func normalQuantile(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }

// line is the straight line of least squares through transformed points, slope
// and offset. A slope that does not rise is taken for a small one, so that it
// can serve as a start.
func line(x, y []float64, fx, fy func(float64) float64) (slope, offset float64) {
	var sx, sy, sxx, sxy float64
	n := float64(len(x))
	for i := range x {
		u, v := fx(x[i]), fy(y[i])
		sx, sy, sxx, sxy = sx+u, sy+v, sxx+u*u, sxy+u*v
	}
	slope = (n*sxy - sx*sy) / (n*sxx - sx*sx)
	if !(slope > 1e-3) {
		slope = 1e-3
	}
	return slope, (sy - slope*sx) / n
}
