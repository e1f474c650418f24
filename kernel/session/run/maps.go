package run

import (
	"errors"
	"go/types"
	"reflect"
	"unicode/utf8"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

// lookup compiles m[k] and v, ok := m[k].
func (c *compiler) lookup(in *ssa.Lookup, d uintptr) op {
	t := c.mapLayout(in.X.Type())
	m, k, pos := c.offset(in.X), c.offset(in.Index), int64(in.Pos())
	value, ok := d, uintptr(0)
	if in.CommaOk {
		o := c.tuple(in)
		value, ok = o[0], o[1]
	}
	if quick := quickLookups[t]; quick != nil {
		return quick(c, m, k, value, ok, pos)
	}
	zero, check := zeroOf(t.Elem()), c.keyCheck(in.X.Type())
	return c.announced(m, concurrentRead, func(fp pointer) {
		head(fp).pos = pos
		key := unsafe.Add(fp, k)
		check(key)
		v := reflect.NewAt(t, unsafe.Add(fp, m)).Elem().MapIndex(reflect.NewAt(t.Key(), key).Elem())
		if v.IsValid() {
			reflect.NewAt(t.Elem(), unsafe.Add(fp, value)).Elem().Set(v)
		} else {
			zero(unsafe.Add(fp, value))
		}
		if ok != 0 {
			*at[bool](fp, ok) = v.IsValid()
		}
	})
}

// keyCheck panics for keys that cannot be hashed.
func (m *Machine) keyCheck(t types.Type) func(key pointer) {
	if k := t.Underlying().(*types.Map).Key(); types.IsInterface(k) {
		load := m.loadInterface(k)
		return func(key pointer) {
			v := load(key)
			hashable(v)
			if _, ok := v.(quantity.Quantity); ok {
				panic(errors.New(quantityKey + "; " + insteadOfQuantityKey))
			}
		}
	}
	return func(pointer) {}
}

// Two quantities that are equal need not be the same value, and a map would tell them apart.
const (
	quantityKey          = "a quantity cannot be the key of a map: 1 t and 1000 kg are equal, and would be two keys"
	insteadOfQuantityKey = `use the number in one unit as the key, from q.Value("unit"), or a name`
)

// holdsQuantity tells whether equality of a type compares quantities.
func holdsQuantity(t reflect.Type) bool {
	switch {
	case t == quantityType:
		return true
	case t.Kind() == reflect.Array:
		return holdsQuantity(t.Elem())
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			if holdsQuantity(t.Field(i).Type) {
				return true
			}
		}
	}
	return false
}

func (c *compiler) mapUpdate(in *ssa.MapUpdate) op {
	t := c.mapLayout(in.Map.Type())
	m, k, v, pos := c.offset(in.Map), c.offset(in.Key), c.offset(in.Value), int64(in.Pos())
	if quick := quickUpdates[t]; quick != nil {
		return quick(c, m, k, v, pos)
	}
	check := c.keyCheck(in.Map.Type())
	return c.announced(m, concurrentWrite, func(fp pointer) {
		head(fp).pos = pos
		key := unsafe.Add(fp, k)
		check(key)
		reflect.NewAt(t, unsafe.Add(fp, m)).Elem().SetMapIndex(
			reflect.NewAt(t.Key(), key).Elem(), reflect.NewAt(t.Elem(), unsafe.Add(fp, v)).Elem())
	})
}

var (
	quickLookups = map[reflect.Type]func(c *compiler, m, k, value, ok uintptr, pos int64) op{}
	quickUpdates = map[reflect.Type]func(c *compiler, m, k, v uintptr, pos int64) op{}
)

// quick registers a map type that is read and written without reflection.
func quick[K comparable, V any]() {
	t := reflect.TypeFor[map[K]V]()
	quickLookups[t] = quickLookup[K, V]
	quickUpdates[t] = func(c *compiler, m, k, v uintptr, pos int64) op {
		parallel := &c.Machine.parallel
		update := func(fp pointer) { (*at[map[K]V](fp, m))[*at[K](fp, k)] = *at[V](fp, v) }
		return func(fp pointer) {
			head(fp).pos = pos
			if parallel.Load() {
				announce(fp, m, concurrentWrite, update)
				return
			}
			(*at[map[K]V](fp, m))[*at[K](fp, k)] = *at[V](fp, v)
		}
	}
}

func quickLookup[K comparable, V any](c *compiler, m, k, value, ok uintptr, pos int64) op {
	parallel := &c.Machine.parallel
	lookup := func(fp pointer) { *at[V](fp, value) = (*at[map[K]V](fp, m))[*at[K](fp, k)] }
	if ok != 0 {
		lookup = func(fp pointer) { *at[V](fp, value), *at[bool](fp, ok) = (*at[map[K]V](fp, m))[*at[K](fp, k)] }
		return func(fp pointer) {
			if parallel.Load() {
				head(fp).pos = pos
				announce(fp, m, concurrentRead, lookup)
				return
			}
			*at[V](fp, value), *at[bool](fp, ok) = (*at[map[K]V](fp, m))[*at[K](fp, k)]
		}
	}
	return func(fp pointer) {
		if parallel.Load() {
			head(fp).pos = pos
			announce(fp, m, concurrentRead, lookup)
			return
		}
		*at[V](fp, value) = (*at[map[K]V](fp, m))[*at[K](fp, k)]
	}
}

func quickKeys[V any]() {
	quick[string, V]()
	quick[int, V]()
	quick[rune, V]()
}

func init() {
	quickKeys[int]()
	quickKeys[float64]()
	quickKeys[string]()
	quickKeys[bool]()
	quickKeys[[]int]()
	quickKeys[[]float64]()
	quickKeys[[]string]()
	quickKeys[struct{}]()
	quick[float64, float64]()
	quick[float64, int]()
	quick[[2]int, int]()
	quick[[2]int, bool]()
}

type textIterator struct {
	text string
	next int
}

func (c *compiler) rangeStart(in *ssa.Range, d uintptr) op {
	a := c.offset(in.X)
	if c.layout(in.X.Type()).Kind() == reflect.String {
		return func(fp pointer) { *at[pointer](fp, d) = pointer(&textIterator{text: *at[string](fp, a)}) }
	}
	t := c.mapLayout(in.X.Type())
	return func(fp pointer) {
		*at[pointer](fp, d) = pointer(reflect.NewAt(t, unsafe.Add(fp, a)).Elem().MapRange())
	}
}

func (c *compiler) rangeNext(in *ssa.Next) op {
	it, o := c.offset(in.Iter), c.tuple(in)
	if in.IsString {
		return func(fp pointer) {
			s := (*textIterator)(*at[pointer](fp, it))
			if *at[bool](fp, o[0]) = s.next < len(s.text); !*at[bool](fp, o[0]) {
				return
			}
			r, n := utf8.DecodeRuneInString(s.text[s.next:])
			*at[int](fp, o[1]), *at[rune](fp, o[2]) = s.next, r
			s.next += n
		}
	}
	t := c.mapLayout(in.Iter.(*ssa.Range).X.Type())
	used := func(i int) bool { return in.Type().(*types.Tuple).At(i).Type() != types.Typ[types.Invalid] }
	key, value := used(1), used(2)
	return c.announced(c.offset(in.Iter.(*ssa.Range).X), concurrentIteration, func(fp pointer) {
		m := (*reflect.MapIter)(*at[pointer](fp, it))
		more := m.Next()
		*at[bool](fp, o[0]) = more
		if more && key {
			reflect.NewAt(t.Key(), unsafe.Add(fp, o[1])).Elem().SetIterKey(m)
		}
		if more && value {
			reflect.NewAt(t.Elem(), unsafe.Add(fp, o[2])).Elem().SetIterValue(m)
		}
	})
}
