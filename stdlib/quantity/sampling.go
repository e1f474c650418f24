package quantity

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"sync/atomic"
)

// DefaultSamples is how many samples an uncertain quantity carries unless
// SetSamples says otherwise.
const DefaultSamples = 10000

// The number of samples stays in a range in which quantiles mean something and
// memory suffices.
const (
	leastSamples    = 100
	greatestSamples = 10_000_000
)

// sampling is one set of uncertain inputs that may meet in arithmetic: sample i
// of each belongs to sample i of all others.
type sampling struct {
	count int
	seed  uint64

	lock    sync.Mutex
	inputs  int       // how many there are
	earlier [][]int32 // the ranks of the first of them
}

var drawing atomic.Pointer[sampling]

func init() { drawing.Store(&sampling{count: DefaultSamples, seed: 1}) }

// Seed begins a new set of uncertain inputs, drawn from the given seed; without
// it the seed is 1. The same inputs made in the same order after the same Seed
// have the same samples. Inputs made before and after do not mix: arithmetic on
// both panics with a *SampleError, for their samples would be paired by accident.
func Seed(seed uint64) {
	drawing.Store(&sampling{count: drawing.Load().count, seed: seed})
}

// SetSamples begins a new set of uncertain inputs, with count samples each, from
// 100 to ten million; as for Seed, inputs made before and after do not mix.
func SetSamples(count int) error {
	if count < leastSamples || count > greatestSamples {
		return fmt.Errorf("%d samples: give a number from %d to %d", count, leastSamples, greatestSamples)
	}
	drawing.Store(&sampling{count: count, seed: drawing.Load().seed})
	return nil
}

// SampleError says that two uncertain quantities come from different sets of
// inputs. Arithmetic panics with it.
type SampleError struct{ Left, Right Quantity }

func (e *SampleError) Error() string {
	return fmt.Sprintf("cannot combine %s and %s: one was made before and the other after Seed or SetSamples; make the inputs again", e.Left, e.Right)
}

// ranks is a permutation of 0 to count-1: in which stratum of its distribution
// each sample of a new input lies. Every stratum is used once (a Latin
// hypercube). The strata of the first inputs are paired evenly, by Kronecker
// sequences with random starts, those after them at random; what correlation is
// left with earlier inputs is then taken out.
func (s *sampling) ranks() []int32 {
	s.lock.Lock()
	defer s.lock.Unlock()
	k := s.inputs
	s.inputs++
	random := rand.New(rand.NewPCG(s.seed, uint64(k)))
	points := make([]point, s.count)
	if k < len(steps) {
		start := random.Float64()
		for i := range points {
			_, points[i].at = math.Modf(start + float64(i)*steps[k])
		}
	} else {
		for i := range points {
			points[i].at = random.Float64()
		}
	}
	ranks := ranked(points)
	// Ranking again brings a little correlation back, so it is done more than once.
	for range min(len(s.earlier), 4) {
		s.decorrelate(points, ranks)
		ranks = ranked(points)
	}
	if len(s.earlier) < remembered {
		s.earlier = append(s.earlier, ranks)
	}
	return ranks
}

// remembered is from how many inputs later ones are kept uncorrelated.
const remembered = 64

// decorrelate puts the ranks into the points, less their regression on the ranks
// of earlier inputs, which are as good as uncorrelated with each other.
func (s *sampling) decorrelate(points []point, ranks []int32) {
	middle := float64(s.count-1) / 2
	square := float64(s.count) * (float64(s.count)*float64(s.count) - 1) / 12
	for i, rank := range ranks {
		points[i] = point{float64(rank) - middle, int32(i)}
	}
	for _, earlier := range s.earlier {
		product := 0.0
		for i, rank := range earlier {
			product += points[i].at * (float64(rank) - middle)
		}
		for i, rank := range earlier {
			points[i].at -= product / square * (float64(rank) - middle)
		}
	}
}

// ranked gives the rank of each point, and leaves the points sorted.
func ranked(points []point) []int32 {
	for i := range points {
		points[i].sample = int32(i)
	}
	slices.SortFunc(points, func(a, b point) int { return cmp.Compare(a.at, b.at) })
	ranks := make([]int32, len(points))
	for rank, p := range points {
		ranks[p.sample] = int32(rank)
	}
	return ranks
}

type point struct {
	at     float64
	sample int32
}

// steps are the irrational steps of the Kronecker sequences, one an input: the
// fractions of square roots of primes, less those that would move in step with
// one chosen before.
var steps = chooseSteps(20)

func chooseSteps(count int) []float64 {
	var chosen []float64
	for candidate := 2; len(chosen) < count && candidate < 10000; candidate++ {
		_, step := math.Modf(math.Sqrt(float64(candidate)))
		if isPrime(candidate) && !slices.ContainsFunc(chosen, func(other float64) bool { return inStep(step, other) }) {
			chosen = append(chosen, step)
		}
	}
	return chosen
}

func isPrime(n int) bool {
	for d := 2; d*d <= n; d++ {
		if n%d == 0 {
			return false
		}
	}
	return n > 1
}

// inStepBy is how near: ten thousand samples go around a hundred times or,
// for multiples, some fraction of that, which leaves correlations near 0.002.
const inStepBy = 0.01

// inStep tells whether small multiples of two steps nearly add to a whole
// number, which shows as stripes when one is plotted against the other.
func inStep(a, b float64) bool {
	for i := 1; i <= 3; i++ {
		for j := -3; j <= 3; j++ {
			sum := float64(i)*a + float64(j)*b
			if j != 0 && math.Abs(sum-math.Round(sum)) < inStepBy/float64(i*max(j, -j)) {
				return true
			}
		}
	}
	return false
}
