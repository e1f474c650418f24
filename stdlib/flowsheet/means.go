package flowsheet

import (
	"reflect"
	"strings"

	"cobber/stdlib/quantity"
)

// TakenAtMeans are the steps whose units have uncertain fields: they count by
// their means, and the result says nothing of their spread. Carry takes it
// through the plant.
func (r *Result) TakenAtMeans() []string {
	var steps []string
	for _, step := range r.sheet.steps {
		if holdsUncertain(reflect.ValueOf(step.Unit), 0) {
			steps = append(steps, step.Name)
		}
	}
	return steps
}

// meansNote is what a caption says of them.
func (r *Result) meansNote() string {
	steps := r.TakenAtMeans()
	if len(steps) == 0 {
		return ""
	}
	return "; uncertain fields of " + strings.Join(steps, ", ") + " taken at their means"
}

var quantityType = reflect.TypeFor[quantity.Quantity]()

// holdsUncertain looks through the exported fields of a unit.
func holdsUncertain(v reflect.Value, depth int) bool {
	const deepest = 6
	if !v.IsValid() || depth > deepest {
		return false
	}
	if v.Type() == quantityType {
		return v.CanInterface() && v.Interface().(quantity.Quantity).IsUncertain()
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		return holdsUncertain(v.Elem(), depth+1)
	case reflect.Struct:
		for k := range v.NumField() {
			if v.Type().Field(k).IsExported() && holdsUncertain(v.Field(k), depth+1) {
				return true
			}
		}
	case reflect.Slice, reflect.Array:
		for k := range v.Len() {
			if holdsUncertain(v.Index(k), depth+1) {
				return true
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			if holdsUncertain(v.MapIndex(key), depth+1) {
				return true
			}
		}
	}
	return false
}
