package run

import (
	"fmt"
	"math"
	"strings"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

// Hooks is what a session wants to know of a cell while it runs. Each may be nil.
type Hooks struct {
	// Note takes the values of a step; main is false in goroutines that the cell started.
	Note func(main bool, step int, values []any)
	// Input may change the value of a variable, to which it gets a pointer.
	Input func(name string, variable any) error
}

// isHook tells the functions that package check puts into trees: they have no text, and no compiled form.
func isHook(f *ssa.Function) bool { return strings.HasSuffix(f.Name(), "·") && f.Blocks == nil }

func init() {
	add(map[string]intrinsic{
		"main.note·": func(fp pointer, a, _ []uintptr) {
			g := head(fp).g
			if note := g.run.Hooks.Note; note != nil {
				note(g == g.run.first, *at[int](fp, a[0]), *at[[]any](fp, a[1]))
			}
		},
		"main.input·": func(fp pointer, a, _ []uintptr) {
			if set := head(fp).g.run.Hooks.Input; set != nil {
				if err := set(*at[string](fp, a[0]), *at[any](fp, a[1])); err != nil {
					panic(err)
				}
			}
		},
		"main.name·": func(fp pointer, a, _ []uintptr) {
			if q, ok := (*at[any](fp, a[1])).(*quantity.Quantity); ok {
				*q = q.NamedOnce(*at[string](fp, a[0]))
			}
		},
		"main.elementary·": func(fp pointer, a, r []uintptr) {
			result := elementary(*at[string](fp, a[0]), *at[[]quantity.Quantity](fp, a[1]))
			if len(r) > 0 {
				*at[quantity.Quantity](fp, r[0]) = result
			}
		},
	})
}

// elementary is a function of package math of quantities without dimension, sample by sample for
// uncertain ones. Sines and their like take angles too.
func elementary(name string, arguments []quantity.Quantity) quantity.Quantity {
	for _, q := range arguments {
		if _, err := numberFor(name, q); err != nil {
			panic(err)
		}
	}
	switch f := functions1[name]; {
	case name == "Sin":
		return quantity.Sin(arguments[0])
	case name == "Cos":
		return quantity.Cos(arguments[0])
	case name == "Tan":
		return quantity.Tan(arguments[0])
	case f != nil:
		return quantity.Apply(f, arguments[0])
	}
	result, err := quantity.Through(func(arguments []quantity.Quantity) (quantity.Quantity, error) {
		x, err := numberFor(name, arguments[0])
		if err != nil {
			return quantity.Quantity{}, err
		}
		y, err := numberFor(name, arguments[1])
		return quantity.Number(functions2[name](x, y)), err
	}, arguments...)
	if err != nil {
		panic(err)
	}
	return result
}

func numberFor(name string, q quantity.Quantity) (float64, error) {
	if takesAngles[name] {
		if x, err := q.Value("rad"); err == nil {
			return x, nil
		}
	}
	x, err := q.Float()
	if err != nil {
		return x, fmt.Errorf("math.%s takes a number without a unit: %w", name, err)
	}
	return x, nil
}

var takesAngles = map[string]bool{"Sin": true, "Cos": true, "Tan": true}

var functions1 = map[string]func(float64) float64{
	"Abs": math.Abs, "Acos": math.Acos, "Acosh": math.Acosh, "Asin": math.Asin, "Asinh": math.Asinh,
	"Atan": math.Atan, "Atanh": math.Atanh, "Cbrt": math.Cbrt, "Ceil": math.Ceil,
	"Cosh": math.Cosh, "Erf": math.Erf, "Erfc": math.Erfc, "Erfcinv": math.Erfcinv, "Erfinv": math.Erfinv,
	"Exp": math.Exp, "Exp2": math.Exp2, "Expm1": math.Expm1, "Floor": math.Floor, "Gamma": math.Gamma,
	"J0": math.J0, "J1": math.J1, "Log": math.Log, "Log10": math.Log10, "Log1p": math.Log1p,
	"Log2": math.Log2, "Logb": math.Logb, "Round": math.Round, "RoundToEven": math.RoundToEven, "Sinh": math.Sinh, "Sqrt": math.Sqrt, "Tanh": math.Tanh, "Trunc": math.Trunc,
	"Y0": math.Y0, "Y1": math.Y1,
}

var functions2 = map[string]func(x, y float64) float64{
	"Atan2": math.Atan2, "Copysign": math.Copysign, "Dim": math.Dim, "Hypot": math.Hypot, "Max": math.Max,
	"Min": math.Min, "Mod": math.Mod, "Nextafter": math.Nextafter, "Pow": math.Pow, "Remainder": math.Remainder,
}
