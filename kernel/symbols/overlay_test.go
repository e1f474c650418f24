package symbols

import (
	realerrors "errors"
	"fmt"
	"io"
	"io/fs"
	realiter "iter"
	"reflect"
	realsync "sync"
	"testing"

	ourerrors "cobber/kernel/symbols/source/overlay/errors"
	ouriter "cobber/kernel/symbols/source/overlay/iter"
	ourrand "cobber/kernel/symbols/source/overlay/math/rand/v2"
	ourreflect "cobber/kernel/symbols/source/overlay/reflect"
	oursync "cobber/kernel/symbols/source/overlay/sync"
)

func TestOnceValueAgreesWithGo(t *testing.T) {
	for _, fails := range []bool{false, true} {
		calls := func(once func(func() int) func() int, twice func(func() (int, error)) func() (int, error)) func() []any {
			return func() (seen []any) {
				count := 0
				one := once(func() int {
					if count++; fails {
						panic(fmt.Sprint("failed ", count))
					}
					return count
				})
				two := twice(func() (int, error) { count++; return count, io.EOF })
				for range 3 {
					seen = append(seen, outcome(func() []any { return []any{one()} }))
					n, err := two()
					seen = append(seen, n, err)
				}
				return append(seen, count)
			}
		}
		compare(t, fmt.Sprint("OnceValue, failing: ", fails),
			calls(oursync.OnceValue[int], oursync.OnceValues[int, error]),
			calls(realsync.OnceValue[int], realsync.OnceValues[int, error]))
	}
}

// coded is an error by value; claims says it is one by its method As.
type coded struct{ code int }

func (c coded) Error() string { return fmt.Sprint("code ", c.code) }

type claims struct{}

func (claims) Error() string { return "claims" }
func (claims) As(target any) bool {
	c, ok := target.(*coded)
	if ok {
		*c = coded{7}
	}
	return ok
}

func TestAsTypeAgreesWithGo(t *testing.T) {
	path := &fs.PathError{Op: "open", Path: "x", Err: coded{3}}
	for _, err := range []error{
		nil, io.EOF, coded{1}, fmt.Errorf("in: %w", coded{2}), path,
		realerrors.Join(io.EOF, path, coded{4}), realerrors.Join(io.EOF, fmt.Errorf("both %w and %w", claims{}, coded{5})),
		claims{}, fmt.Errorf("%w", nil),
	} {
		compare(t, fmt.Sprint("AsType of ", err), func() []any {
			c, isCoded := ourerrors.AsType[coded](err)
			p, isPath := ourerrors.AsType[*fs.PathError](err)
			return []any{c, isCoded, p, isPath}
		}, func() []any {
			c, isCoded := realerrors.AsType[coded](err)
			p, isPath := realerrors.AsType[*fs.PathError](err)
			return []any{c, isCoded, p, isPath}
		})
	}
}

func TestReflectOverlayAgreesWithGo(t *testing.T) {
	compare(t, "TypeFor",
		func() []any {
			return []any{ourreflect.TypeFor[int](), ourreflect.TypeFor[error](), ourreflect.TypeFor[[]map[string]*int]()}
		},
		func() []any {
			return []any{reflect.TypeFor[int](), reflect.TypeFor[error](), reflect.TypeFor[[]map[string]*int]()}
		})
	for _, value := range []any{1, "a", coded{1}, nil} {
		v := reflect.ValueOf(value)
		check := func(toInt func(reflect.Value) (int, bool), toError func(reflect.Value) (error, bool)) func() []any {
			return func() []any {
				n, isInt := toInt(v)
				err, isError := toError(v)
				return []any{n, isInt, err, isError}
			}
		}
		if value != nil { // the texts of the panics differ: both name the method called
			compare(t, fmt.Sprint("TypeAssert of ", value),
				check(ourreflect.TypeAssert[int], ourreflect.TypeAssert[error]),
				check(reflect.TypeAssert[int], reflect.TypeAssert[error]))
		}
	}
}

func TestRandomNumbersOfAnyType(t *testing.T) {
	seen := map[int8]int{}
	for range 6000 {
		seen[ourrand.N(int8(6))]++
	}
	for n := range int8(6) {
		// 1000 expected, standard deviation 29: seven of them are never met.
		if seen[n] < 800 || seen[n] > 1200 {
			t.Errorf("%d was drawn %d times of 6000, want about 1000", n, seen[n])
		}
	}
	if len(seen) != 6 {
		t.Errorf("drew %v, want 0 to 5 only", seen)
	}
	if got := outcome(func() []any { return []any{ourrand.N(0)} }); got != "panic: invalid argument to N" {
		t.Errorf("N(0): %s", got)
	}
}

func TestPullAgreesWithGo(t *testing.T) {
	count := func(n int, ended *bool) realiter.Seq[int] {
		return func(yield func(int) bool) {
			defer func() { *ended = true }()
			for i := range n {
				if !yield(i) {
					return
				}
			}
		}
	}
	failing := func(yield func(int) bool) {
		yield(1)
		panic("seq failed")
	}
	type pull = func(realiter.Seq[int]) (func() (int, bool), func())
	for name, run := range map[string]func(pull) []any{
		"to the end": func(pull pull) (seen []any) {
			var ended bool
			next, stop := pull(count(3, &ended))
			for range 5 {
				v, ok := next()
				seen = append(seen, v, ok, ended)
			}
			stop()
			stop()
			return append(seen, ended)
		},
		"stopped half-way": func(pull pull) (seen []any) {
			var ended bool
			next, stop := pull(count(3, &ended))
			v, ok := next()
			stop()
			w, more := next()
			return append(seen, v, ok, w, more, ended)
		},
		"stopped before the start": func(pull pull) (seen []any) {
			var ended bool
			next, stop := pull(count(3, &ended))
			stop()
			v, ok := next()
			return append(seen, v, ok, ended)
		},
		"failing": func(pull pull) (seen []any) {
			next, stop := pull(failing)
			for range 3 {
				seen = append(seen, outcome(func() []any { v, ok := next(); return []any{v, ok} }))
			}
			stop()
			return seen
		},
		"called within itself": func(pull pull) (seen []any) {
			var next func() (int, bool)
			next, stop := pull(func(yield func(int) bool) { next() })
			defer stop()
			return append(seen, outcome(func() []any { v, ok := next(); return []any{v, ok} }))
		},
	} {
		compare(t, "Pull "+name,
			func() []any { return run(ouriter.Pull[int]) },
			func() []any { return run(realiter.Pull[int]) })
	}
	pairs := func(yield func(string, int) bool) { _ = yield("a", 1) && yield("b", 2) }
	two := func(pull func(realiter.Seq2[string, int]) (func() (string, int, bool), func())) func() []any {
		return func() (seen []any) {
			next, stop := pull(pairs)
			for range 3 {
				k, v, ok := next()
				seen = append(seen, k, v, ok)
			}
			stop()
			return seen
		}
	}
	compare(t, "Pull2", two(ouriter.Pull2[string, int]), two(realiter.Pull2[string, int]))
}
