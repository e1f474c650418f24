package symbols

import (
	realcmp "cmp"
	"fmt"
	"iter"
	realmaps "maps"
	"math"
	"math/rand/v2"
	realslices "slices"
	"strings"
	"testing"

	ourcmp "cobber/kernel/symbols/source/cmp"
	ourmaps "cobber/kernel/symbols/source/maps"
	ourslices "cobber/kernel/symbols/source/slices"
)

// The texts under source are compiled here beside the packages they stand for
// and must give the same results, element by element and panic by panic.

// outcome runs f and gives what it returned, or the text it panicked with.
func outcome(f func() []any) (text string) {
	defer func() {
		if cause := recover(); cause != nil {
			text = fmt.Sprint("panic: ", cause)
		}
	}()
	return fmt.Sprintf("%#v", f())
}

func compare(t *testing.T, what string, ours, real func() []any) {
	t.Helper()
	if got, want := outcome(ours), outcome(real); got != want {
		t.Errorf("%s:\n got %s\nwant %s", what, got, want)
	}
}

// numbers are values on which comparisons are known to go wrong.
var numbers = []float64{0, math.Copysign(0, -1), 1, -1, 2, math.NaN(), math.Inf(1), math.Inf(-1), 1, 2}

func randomFloats(random *rand.Rand, n int) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = numbers[random.IntN(len(numbers))]
	}
	return s
}

func randomInts(random *rand.Rand, n, limit int) []int {
	s := make([]int, n)
	for i := range s {
		s[i] = random.IntN(limit)
	}
	return s
}

func TestCmpAgreesWithGo(t *testing.T) {
	for _, x := range numbers {
		for _, y := range numbers {
			compare(t, fmt.Sprint("cmp of ", x, " and ", y),
				func() []any { return []any{ourcmp.Less(x, y), ourcmp.Compare(x, y), ourcmp.Or(x, y)} },
				func() []any { return []any{realcmp.Less(x, y), realcmp.Compare(x, y), realcmp.Or(x, y)} })
		}
	}
	for _, pair := range [][2]string{{"", ""}, {"", "a"}, {"a", "b"}, {"b", "a"}, {"ab", "a"}} {
		x, y := pair[0], pair[1]
		compare(t, "cmp of strings",
			func() []any { return []any{ourcmp.Less(x, y), ourcmp.Compare(x, y), ourcmp.Or(x, y)} },
			func() []any { return []any{realcmp.Less(x, y), realcmp.Compare(x, y), realcmp.Or(x, y)} })
	}
	compare(t, "cmp.Or of nothing", func() []any { return []any{ourcmp.Or[int]()} }, func() []any { return []any{realcmp.Or[int]()} })
}

// record is an element whose equals can be told apart.
type record struct{ key, place int }

func randomRecords(random *rand.Rand, n, keys int) []record {
	s := make([]record, n)
	for i := range s {
		s[i] = record{random.IntN(keys), i}
	}
	return s
}

func byKey(a, b record) int { return a.key - b.key }

// patterns are inputs on which pattern-defeating sorting takes its different
// ways.
func patterns(random *rand.Rand, n, keys int) map[string][]record {
	ascending := randomRecords(random, n, keys)
	realslices.SortStableFunc(ascending, byKey)
	descending := realslices.Clone(ascending)
	realslices.Reverse(descending)
	disturbed := realslices.Clone(ascending)
	for range n / 20 {
		i, j := random.IntN(n), random.IntN(n)
		disturbed[i], disturbed[j] = disturbed[j], disturbed[i]
	}
	organ := realslices.Concat(ascending[:n/2], descending[:n-n/2])
	return map[string][]record{
		"random": randomRecords(random, n, keys), "ascending": ascending, "descending": descending,
		"nearly sorted": disturbed, "up and down": organ,
	}
}

func TestOrderOfEqualElementsIsGos(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 2, 3, 7, 11, 12, 13, 20, 21, 49, 50, 51, 100, 257, 1000, 5000} {
		for _, keys := range []int{1, 2, 3, 10, 1 + n/2, 10 * (n + 1)} {
			for name, input := range patterns(random, n, keys) {
				ours, real := realslices.Clone(input), realslices.Clone(input)
				ourslices.SortFunc(ours, byKey)
				realslices.SortFunc(real, byKey)
				if !realslices.Equal(ours, real) {
					t.Errorf("SortFunc of %d %s records with %d keys differs from Go's", n, name, keys)
				}
				ours, real = realslices.Clone(input), realslices.Clone(input)
				ourslices.SortStableFunc(ours, byKey)
				realslices.SortStableFunc(real, byKey)
				if !realslices.Equal(ours, real) {
					t.Errorf("SortStableFunc of %d %s records with %d keys differs from Go's", n, name, keys)
				}
			}
		}
	}
}

type grade float64 // no compiled sorting is made for it

func TestSortOfFloatsAgreesWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		input := randomFloats(random, random.IntN(80))
		grades := make([]grade, len(input))
		for i, x := range input {
			grades[i] = grade(x)
		}
		sorted := func(sortFloats func([]float64), sortGrades func([]grade)) func() []any {
			return func() []any {
				floats, named := realslices.Clone(input), realslices.Clone(grades)
				sortFloats(floats)
				sortGrades(named)
				return []any{floats, named}
			}
		}
		compare(t, fmt.Sprint("Sort of ", input), sorted(ourslices.Sort, ourslices.Sort), sorted(realslices.Sort, realslices.Sort))
	}
}

func TestQuestionsAgreeWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		x, y := randomFloats(random, random.IntN(6)), randomFloats(random, random.IntN(6))
		v := numbers[random.IntN(len(numbers))]
		isV := func(w float64) bool { return w == v }
		rough := func(a, b float64) int { return int(a) - int(b) }
		compare(t, fmt.Sprint("questions about ", x, y, v), func() []any {
			return []any{
				ourslices.Equal(x, y), ourslices.EqualFunc(x, y, func(a, b float64) bool { return a <= b }),
				ourslices.Compare(x, y), ourslices.CompareFunc(x, y, rough),
				ourslices.Index(x, v), ourslices.IndexFunc(x, isV), ourslices.Contains(x, v), ourslices.ContainsFunc(x, isV),
				ourslices.IsSorted(x), ourslices.IsSortedFunc(x, rough),
			}
		}, func() []any {
			return []any{
				realslices.Equal(x, y), realslices.EqualFunc(x, y, func(a, b float64) bool { return a <= b }),
				realslices.Compare(x, y), realslices.CompareFunc(x, y, rough),
				realslices.Index(x, v), realslices.IndexFunc(x, isV), realslices.Contains(x, v), realslices.ContainsFunc(x, isV),
				realslices.IsSorted(x), realslices.IsSortedFunc(x, rough),
			}
		})
		for name, pair := range map[string][2]func([]float64) float64{
			"Min": {ourslices.Min[[]float64], realslices.Min[[]float64]},
			"Max": {ourslices.Max[[]float64], realslices.Max[[]float64]},
		} {
			compare(t, fmt.Sprint(name, " of ", x), func() []any { return []any{pair[0](x)} }, func() []any { return []any{pair[1](x)} })
		}
		records := randomRecords(random, random.IntN(6), 3)
		compare(t, fmt.Sprint("MinFunc of ", records), func() []any { return []any{ourslices.MinFunc(records, byKey)} }, func() []any { return []any{realslices.MinFunc(records, byKey)} })
		compare(t, fmt.Sprint("MaxFunc of ", records), func() []any { return []any{ourslices.MaxFunc(records, byKey)} }, func() []any { return []any{realslices.MaxFunc(records, byKey)} })
	}
}

func TestBinarySearchAgreesWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 500 {
		x := randomFloats(random, random.IntN(30))
		realslices.Sort(x)
		v := numbers[random.IntN(len(numbers))]
		pair := func(i int, found bool) []any { return []any{i, found} }
		compare(t, fmt.Sprint("BinarySearch of ", v, " in ", x),
			func() []any { return pair(ourslices.BinarySearch(x, v)) },
			func() []any { return pair(realslices.BinarySearch(x, v)) })
		toText := func(a float64, b string) int { return realcmp.Compare(a, float64(len(b))) }
		compare(t, fmt.Sprint("BinarySearchFunc in ", x),
			func() []any { return pair(ourslices.BinarySearchFunc(x, "a", toText)) },
			func() []any { return pair(realslices.BinarySearchFunc(x, "a", toText)) })
	}
}

// memory is the whole block a slice lies in, so that what a function leaves
// beyond the end, and where it allocates, is compared too.
func memory(block, result []int) []any {
	return []any{result, result == nil, len(result), cap(result), block[:cap(block)],
		cap(result) > 0 && cap(block) > 0 && &result[:1][0] == &block[:1][0]}
}

func TestEditsAgreeWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	odd := func(v int) bool { return v%2 == 1 }
	near := func(a, b int) bool { return a-b <= 1 && b-a <= 1 } // not transitive
	for range 4000 {
		n := random.IntN(9)
		block := randomInts(random, n+random.IntN(9), 4)
		i, j := random.IntN(n+2)-random.IntN(2), random.IntN(n+2)
		v := randomInts(random, random.IntN(5), 9)
		a, b := random.IntN(len(block)+1), random.IntN(len(block)+1)
		a, b = min(a, b), max(a, b) // a part of the block itself, to be inserted into it
		for name, pair := range map[string][2]func([]int) []int{
			"Insert":        {func(s []int) []int { return ourslices.Insert(s, i, v...) }, func(s []int) []int { return realslices.Insert(s, i, v...) }},
			"Insert itself": {func(s []int) []int { return ourslices.Insert(s, i, s[:cap(s)][a:b]...) }, func(s []int) []int { return realslices.Insert(s, i, s[:cap(s)][a:b]...) }},
			"Replace":       {func(s []int) []int { return ourslices.Replace(s, i, j, v...) }, func(s []int) []int { return realslices.Replace(s, i, j, v...) }},
			"Replace itself": {func(s []int) []int { return ourslices.Replace(s, i, j, s[:cap(s)][a:b]...) },
				func(s []int) []int { return realslices.Replace(s, i, j, s[:cap(s)][a:b]...) }},
			"Delete":      {func(s []int) []int { return ourslices.Delete(s, i, j) }, func(s []int) []int { return realslices.Delete(s, i, j) }},
			"DeleteFunc":  {func(s []int) []int { return ourslices.DeleteFunc(s, odd) }, func(s []int) []int { return realslices.DeleteFunc(s, odd) }},
			"Compact":     {ourslices.Compact[[]int], realslices.Compact[[]int]},
			"CompactFunc": {func(s []int) []int { return ourslices.CompactFunc(s, near) }, func(s []int) []int { return realslices.CompactFunc(s, near) }},
			"Clone":       {ourslices.Clone[[]int], realslices.Clone[[]int]},
			"Clip":        {ourslices.Clip[[]int], realslices.Clip[[]int]},
			"Grow":        {func(s []int) []int { return ourslices.Grow(s, i) }, func(s []int) []int { return realslices.Grow(s, i) }},
			"Repeat":      {func(s []int) []int { return ourslices.Repeat(s, i) }, func(s []int) []int { return realslices.Repeat(s, i) }},
			"Concat":      {func(s []int) []int { return ourslices.Concat(s, v, nil) }, func(s []int) []int { return realslices.Concat(s, v, nil) }},
			"Reverse":     {func(s []int) []int { ourslices.Reverse(s); return s }, func(s []int) []int { realslices.Reverse(s); return s }},
		} {
			run := func(f func([]int) []int) func() []any {
				return func() []any {
					own := append(make([]int, 0, len(block)), block...)
					return memory(own, f(own[:n]))
				}
			}
			compare(t, fmt.Sprintf("%s of %v[:%d], i=%d j=%d v=%v a=%d b=%d", name, block, n, i, j, v, a, b), run(pair[0]), run(pair[1]))
		}
	}
	for name, pair := range map[string][2]func() []int{
		"Clone nil":      {func() []int { return ourslices.Clone([]int(nil)) }, func() []int { return realslices.Clone([]int(nil)) }},
		"Concat nothing": {func() []int { return ourslices.Concat[[]int]() }, func() []int { return realslices.Concat[[]int]() }},
		"Repeat too far": {func() []int { return ourslices.Repeat(make([]int, 8), math.MaxInt/2) }, func() []int { return realslices.Repeat(make([]int, 8), math.MaxInt/2) }},
	} {
		compare(t, name, func() []any { return memory(nil, pair[0]()) }, func() []any { return memory(nil, pair[1]()) })
	}
}

// gather takes at most limit values, to see that iterators stop when asked.
func gather[V any](seq iter.Seq[V], limit int) []V {
	var values []V
	for v := range seq {
		values = append(values, v)
		if len(values) == limit {
			break
		}
	}
	return values
}

func gather2[K, V any](seq iter.Seq2[K, V], limit int) string {
	var text strings.Builder
	count := 0
	for k, v := range seq {
		fmt.Fprint(&text, k, "=", v, " ")
		if count++; count == limit {
			break
		}
	}
	return text.String()
}

func TestIteratorsAgreeWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		s := randomInts(random, random.IntN(8), 5)
		limit, n := random.IntN(9), random.IntN(5)
		records := randomRecords(random, random.IntN(30), 3)
		compare(t, fmt.Sprint("iterators over ", s), func() []any {
			return []any{
				gather2(ourslices.All(s), limit), gather2(ourslices.Backward(s), limit), gather(ourslices.Values(s), limit),
				ourslices.Collect(ourslices.Values(s)), ourslices.AppendSeq(s, ourslices.Values(s)), ourslices.Sorted(ourslices.Values(s)),
				ourslices.SortedFunc(ourslices.Values(records), byKey), ourslices.SortedStableFunc(ourslices.Values(records), byKey),
			}
		}, func() []any {
			return []any{
				gather2(realslices.All(s), limit), gather2(realslices.Backward(s), limit), gather(realslices.Values(s), limit),
				realslices.Collect(realslices.Values(s)), realslices.AppendSeq(s, realslices.Values(s)), realslices.Sorted(realslices.Values(s)),
				realslices.SortedFunc(realslices.Values(records), byKey), realslices.SortedStableFunc(realslices.Values(records), byKey),
			}
		})
		chunks := func(seq func([]int, int) iter.Seq[[]int]) func() []any {
			return func() []any {
				parts := gather(seq(s, n), limit)
				var caps []int
				for _, part := range parts {
					caps = append(caps, cap(part))
				}
				return []any{parts, caps}
			}
		}
		compare(t, fmt.Sprint("Chunk of ", s, " by ", n), chunks(ourslices.Chunk[[]int]), chunks(realslices.Chunk[[]int]))
	}
}

// pairs lists a map in an order that does not depend on the map, which may hold
// several NaN.
func pairs(m map[float64]float64) []string {
	var list []string
	for k, v := range m {
		list = append(list, fmt.Sprint(k, ":", v))
	}
	realslices.Sort(list)
	return list
}

func TestMapsAgreeWithGo(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	some := func() map[float64]float64 {
		m := map[float64]float64{}
		for _, x := range randomFloats(random, random.IntN(5)) {
			m[x] = float64(random.IntN(3))
		}
		return m
	}
	for range 500 {
		x, y := some(), some()
		if random.IntN(10) == 0 {
			x = nil
		}
		keep := func(k, v float64) bool { return k > v }
		atMost := func(a, b float64) bool { return a <= b }
		compare(t, fmt.Sprint("maps ", x, y), func() []any {
			clone := ourmaps.Clone(x)
			copied := ourmaps.Clone(y)
			ourmaps.Copy(copied, x)
			ourmaps.Insert(copied, ourmaps.All(x))
			ourmaps.DeleteFunc(copied, keep)
			return []any{pairs(clone), clone == nil, pairs(copied), ourmaps.Equal(x, y), ourmaps.Equal(x, clone), ourmaps.EqualFunc(x, y, atMost),
				realslices.Sorted(ourmaps.Keys(x)), realslices.Sorted(ourmaps.Values(x)), pairs(ourmaps.Collect(ourmaps.All(x)))}
		}, func() []any {
			clone := realmaps.Clone(x)
			copied := realmaps.Clone(y)
			realmaps.Copy(copied, x)
			realmaps.Insert(copied, realmaps.All(x))
			realmaps.DeleteFunc(copied, keep)
			return []any{pairs(clone), clone == nil, pairs(copied), realmaps.Equal(x, y), realmaps.Equal(x, clone), realmaps.EqualFunc(x, y, atMost),
				realslices.Sorted(realmaps.Keys(x)), realslices.Sorted(realmaps.Values(x)), pairs(realmaps.Collect(realmaps.All(x)))}
		})
	}
	m := map[int]int{1: 2, 3: 4, 5: 6}
	for limit := range 4 {
		if got := len(gather(ourmaps.Keys(m), limit)); limit > 0 && got != limit {
			t.Errorf("Keys gave %d of %d values asked for", got, limit)
		}
		if got := len(gather(ourmaps.Values(m), limit)); limit > 0 && got != limit {
			t.Errorf("Values gave %d of %d values asked for", got, limit)
		}
	}
}
