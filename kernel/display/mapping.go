package display

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
)

// mapping writes a map with its keys in order, so that the same map gives the
// same text.
func (w *textWriter) mapping(v reflect.Value, depth int) {
	if depth >= maxDepth {
		fmt.Fprintf(w, "map[… (%d elements)]", v.Len())
		return
	}
	keys := v.MapKeys()
	slices.SortFunc(keys, compareKeys)
	w.WriteString("map[")
	for i, key := range keys {
		if i == maxElements {
			w.WriteString(" …")
			break
		}
		if i > 0 {
			w.WriteByte(' ')
		}
		w.value(key, depth+1)
		w.WriteByte(':')
		w.value(v.MapIndex(key), depth+1)
	}
	w.WriteByte(']')
	if len(keys) > maxElements {
		fmt.Fprintf(w, " (%d elements)", len(keys))
	}
}

// compareKeys orders keys by value where their kind has an order, and else by
// their text.
func compareKeys(a, b reflect.Value) int {
	if a.Kind() == reflect.Interface && b.Kind() == reflect.Interface {
		a, b = a.Elem(), b.Elem()
	}
	switch {
	case !a.IsValid() || !b.IsValid() || a.Kind() != b.Kind():
		return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b))
	case a.CanInt():
		return cmp.Compare(a.Int(), b.Int())
	case a.CanUint():
		return cmp.Compare(a.Uint(), b.Uint())
	case a.CanFloat():
		return cmp.Compare(a.Float(), b.Float())
	case a.Kind() == reflect.String:
		return cmp.Compare(a.String(), b.String())
	}
	return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b))
}
