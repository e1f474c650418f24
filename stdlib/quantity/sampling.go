package quantity

import (
	"cmp"
	"fmt"
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

func init() { Restart() }

// Restart begins a new set of uncertain inputs as a program begins: with seed 1
// and DefaultSamples. A session of a notebook does so, so that one shows the
// same whatever ran before it.
func Restart() { drawing.Store(&sampling{count: DefaultSamples, seed: 1}) }

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
// hypercube). The strata of the first inputs are paired evenly, as a Sobol
// sequence with random swaps does, those after them at random; what correlation is
// left with earlier inputs is then taken out.
func (s *sampling) ranks() []int32 {
	s.lock.Lock()
	defer s.lock.Unlock()
	k := s.inputs
	s.inputs++
	var points []point
	if k < coordinates {
		points = sobolPoints(k, s.count, s.seed)
	} else {
		points = randomPoints(s.count, rand.New(rand.NewPCG(s.seed, uint64(k))))
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

func randomPoints(count int, random *rand.Rand) []point {
	points := make([]point, count)
	for i := range points {
		points[i].at = random.Float64()
	}
	return points
}
