package balance

import "math"

// Sensitivity is how much a result moves, in per cent of itself, when one grade
// moves by 1 % of itself: (∂result/∂grade)·(grade/result). Plain numbers.
type Sensitivity struct {
	Feed, Concentrate, Tailing float64
}

// Together is the factor by which equal and independent relative errors of the
// three assays are multiplied in the result: the root of the sum of squares. A
// factor of 10 turns assays known to 2 % into a result known to 20 %.
func (s Sensitivity) Together() float64 {
	return math.Sqrt(s.Feed*s.Feed + s.Concentrate*s.Concentrate + s.Tailing*s.Tailing)
}

// YieldSensitivity is the Sensitivity of the yield Y = (f − t)/(c − t):
//
//	f/(f − t),  −c/(c − t),  −t·(c − f)/((c − t)·(f − t))
//
// for feed, concentrate and tailing. It grows without bound as f nears t.
func (b TwoProduct) YieldSensitivity() Sensitivity {
	return Sensitivity{
		Feed:        b.f / (b.f - b.t),
		Concentrate: -b.c / (b.c - b.t),
		Tailing:     -b.t * (b.c - b.f) / ((b.c - b.t) * (b.f - b.t)),
	}
}

// RecoverySensitivity is the Sensitivity of the recovery R = Y·c/f:
//
//	t/(f − t),  −t/(c − t),  −t·(c − f)/((c − t)·(f − t))
//
// for feed, concentrate and tailing. With a poor tailing it is small: recovery
// is then far better known than the assays.
func (b TwoProduct) RecoverySensitivity() Sensitivity {
	return Sensitivity{
		Feed:        b.t / (b.f - b.t),
		Concentrate: -b.t / (b.c - b.t),
		Tailing:     -b.t * (b.c - b.f) / ((b.c - b.t) * (b.f - b.t)),
	}
}
