package run

import "reflect"

// typedEntry makes the compiled function of a closure without reflection, for the signatures that
// compiled packages take most.
func typedEntry(c *closure, t reflect.Type) (reflect.Value, bool) {
	maker, ok := typedEntries[t]
	if !ok {
		return reflect.Value{}, false
	}
	return reflect.ValueOf(maker(c)), true
}

var typedEntries = map[reflect.Type]func(c *closure) any{}

func parameter[T any](frame pointer, i int, v T) { *at[T](frame, head(frame).fn.params[i].offset) = v }

// finishes runs the closure and gives back its only result.
func finishes[R any](c *closure, g *routine, frame pointer) R {
	fn := head(frame).fn
	fn.inside(g, frame)
	r := *at[R](frame, fn.results[0].offset)
	fn.leave(g, frame)
	return r
}

func register0[R any]() {
	typedEntries[reflect.TypeFor[func() R]()] = func(c *closure) any {
		return func() R {
			g, frame := c.begin()
			return finishes[R](c, g, frame)
		}
	}
}

func register1[A, R any]() {
	typedEntries[reflect.TypeFor[func(A) R]()] = func(c *closure) any {
		return func(a A) R {
			g, frame := c.begin()
			parameter(frame, 0, a)
			return finishes[R](c, g, frame)
		}
	}
}

func register2[A, B, R any]() {
	typedEntries[reflect.TypeFor[func(A, B) R]()] = func(c *closure) any {
		return func(a A, b B) R {
			g, frame := c.begin()
			parameter(frame, 0, a)
			parameter(frame, 1, b)
			return finishes[R](c, g, frame)
		}
	}
}

func registerAction1[A any]() {
	typedEntries[reflect.TypeFor[func(A)]()] = func(c *closure) any {
		return func(a A) {
			g, frame := c.begin()
			parameter(frame, 0, a)
			fn := head(frame).fn
			fn.inside(g, frame)
			fn.leave(g, frame)
		}
	}
}

func init() {
	typedEntries[reflect.TypeFor[func()]()] = func(c *closure) any {
		return func() {
			g, frame := c.begin()
			fn := head(frame).fn
			fn.inside(g, frame)
			fn.leave(g, frame)
		}
	}
	register0[int]()
	register0[float64]()
	register0[string]()
	register0[bool]()
	register0[any]()
	register0[error]()
	register1[float64, float64]()
	register1[float64, bool]()
	register1[int, int]()
	register1[int, bool]()
	register1[int, float64]()
	register1[int, string]()
	register1[string, string]()
	register1[string, bool]()
	register1[string, int]()
	register1[rune, rune]()
	register1[rune, bool]()
	register1[[]float64, float64]()
	register1[string, error]()
	register2[int, int, bool]()
	register2[int, int, int]()
	register2[float64, float64, float64]()
	register2[float64, float64, bool]()
	register2[float64, float64, int]()
	register2[string, string, bool]()
	register2[string, string, int]()
	register2[any, any, bool]()
	registerAction1[int]()
	registerAction1[float64]()
	registerAction1[string]()
}
