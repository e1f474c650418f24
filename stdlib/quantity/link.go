package quantity

import (
	"math/big"
	"sync"
	"sync/atomic"
)

// ratio turns a value in one unit into a value in another.
type ratio struct {
	num, den, shift float64
	same            bool
}

func newRatio(f factor, shift float64) ratio {
	num, den := f.split()
	return ratio{num, den, shift, num == den && shift == 0}
}

func (r ratio) apply(v float64) float64 {
	if r.same {
		return v
	}
	return v*r.num/r.den + r.shift
}

// link is what is known about a pair of units for one operation: the unit of
// the result, how to bring each operand to it, or why it cannot be done.
type link struct {
	a, b        *unit
	unit        *unit
	left, right ratio
	reason      string // for a refusal beyond unlike dimensions
	refused     bool
}

// links remembers pairs of units for one operation. The small table in front is
// read without a lock; a program uses few pairs, and those it uses stay there.
// Neither way allocates once a pair is known.
type links struct {
	recent [512]atomic.Pointer[link]
	all    memory[[2]*unit, *link]
	make   func(a, b *unit) *link
}

func (l *links) find(a, b *unit) *link {
	slot := &l.recent[spread(a.id, b.id)]
	if k := slot.Load(); k != nil && k.a == a && k.b == b {
		return k
	}
	return l.findSlow(slot, a, b)
}

// spread is a number below 512 from two others (Fibonacci hashing).
func spread(a, b uint32) uint32 { return (a*31 + b) * 2654435769 >> 23 }

//go:noinline
func (l *links) findSlow(slot *atomic.Pointer[link], a, b *unit) *link {
	pair := [2]*unit{a, b}
	k, ok := l.all.load(pair)
	if !ok {
		k = l.make(a, b)
		k.a, k.b = a, b
		k = l.all.keep(pair, k)
	}
	slot.Store(k)
	return k
}

// memory is a map for use by several goroutines, whose reads do not allocate.
type memory[K comparable, V any] struct {
	lock sync.RWMutex
	all  map[K]V
}

func (m *memory[K, V]) load(key K) (V, bool) {
	m.lock.RLock()
	defer m.lock.RUnlock()
	v, ok := m.all[key]
	return v, ok
}

// keep stores a value unless there is one already, and returns the one kept.
func (m *memory[K, V]) keep(key K, value V) V {
	m.lock.Lock()
	defer m.lock.Unlock()
	if kept, ok := m.all[key]; ok {
		return kept
	}
	if m.all == nil {
		m.all = map[K]V{}
	}
	m.all[key] = value
	return value
}

var (
	products    = links{make: linkProduct}
	quotients   = links{make: linkQuotient}
	sums        = links{make: linkSum}
	differences = links{make: linkDifference}
	conversions = links{make: linkConversion}
)

func linkProduct(a, b *unit) *link { return linkCombined(a.terms, b.terms, a, b) }

func linkQuotient(a, b *unit) *link {
	return linkCombined(a.terms, raiseTerms(b.terms, whole(-1)), a, b)
}

func linkCombined(left, right []term, a, b *unit) *link {
	if a.reading || b.reading {
		return &link{refused: true, reason: readingInProduct}
	}
	u, scale := combine(left, right)
	return &link{unit: u, left: newRatio(scale, 0)}
}

func raiseTerms(terms []term, e exponent) []term {
	out := make([]term, len(terms))
	for i, t := range terms {
		out[i] = term{t.atom, t.power.mul(e)}
	}
	return out
}

// powerLink is the unit of a power, and how to bring the value to it.
type powerLink struct {
	powerKey
	unit  *unit
	value ratio
}

type powerKey struct {
	of    *unit
	power exponent
}

var (
	recentPowers [512]atomic.Pointer[powerLink]
	allPowers    memory[powerKey, *powerLink]
)

func findPower(u *unit, e exponent) *powerLink {
	key := powerKey{u, e}
	slot := &recentPowers[spread(u.id, uint32(e.num)*5+uint32(e.denLess1))]
	if k := slot.Load(); k != nil && k.powerKey == key {
		return k
	}
	k, ok := allPowers.load(key)
	if !ok {
		to, scale := reduce(partsOf(raiseTerms(u.terms, e), 3))
		k = allPowers.keep(key, &powerLink{key, to, newRatio(scale, 0)})
	}
	slot.Store(k)
	return k
}

// linkConversion goes from a to b.
func linkConversion(a, b *unit) *link {
	if a.dimension != b.dimension {
		return &link{refused: true}
	}
	if reason := unlike(a, b); reason != "" {
		return &link{refused: true, reason: reason}
	}
	return &link{unit: b, left: newRatio(a.size.div(b.size), scaleShift(a, b))}
}

// scaleShift is what to add after multiplying, between temperature scales;
// worked out exactly, so that 20 °C is 68 °F and not a little less.
func scaleShift(a, b *unit) float64 {
	if !a.reading && !b.reading {
		return 0
	}
	shift := new(big.Rat).Mul(zeroOf(a), new(big.Rat).Quo(a.size.rational, b.size.rational))
	f, _ := shift.Sub(shift, zeroOf(b)).Float64()
	return f
}

func zeroOf(u *unit) *big.Rat {
	if u.reading {
		return u.terms[0].atom.zero
	}
	return new(big.Rat)
}
