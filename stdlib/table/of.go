package table

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"

	"cobber/stdlib/quantity"
)

// Of makes a table of a value: a slice or array of structs (a column for each
// exported field, named by the field or by its tag, as in `table:"grade"`), of
// quantities, of numbers or of anything that prints (one column, "value"), or
// a map to any of these (its keys, sorted, are the first column, "key").
//
// Errors: a value of another kind; a column whose quantities have unlike
// dimensions.
func Of(value any) (Table, error) {
	v := reflect.ValueOf(value)
	switch {
	case !v.IsValid():
		return Table{}, fmt.Errorf("table: nothing to make a table of")
	case v.Kind() == reflect.Slice || v.Kind() == reflect.Array:
		items := make([]reflect.Value, v.Len())
		for i := range items {
			items[i] = v.Index(i)
		}
		columns, err := columnsOf(v.Type().Elem(), items)
		if err != nil {
			return Table{}, err
		}
		return New(columns...)
	case v.Kind() == reflect.Map:
		return ofMap(v)
	}
	return Table{}, fmt.Errorf("table: a %s is no table; give a slice of structs, of quantities or of numbers, or a map", v.Type())
}

func ofMap(v reflect.Value) (Table, error) {
	keys := v.MapKeys()
	slices.SortFunc(keys, compareKeys)
	items := make([]reflect.Value, len(keys))
	for i, key := range keys {
		items[i] = v.MapIndex(key)
	}
	columns, err := columnsOf(v.Type().Elem(), items)
	if err != nil {
		return Table{}, err
	}
	key := columnOf("key", v.Type().Key(), keys)
	return New(append([]Column{key}, columns...)...)
}

func compareKeys(a, b reflect.Value) int {
	switch {
	case a.CanInt():
		return cmp.Compare(a.Int(), b.Int())
	case a.CanUint():
		return cmp.Compare(a.Uint(), b.Uint())
	case a.CanFloat():
		return cmp.Compare(a.Float(), b.Float())
	}
	return cmp.Compare(fmt.Sprint(a.Interface()), fmt.Sprint(b.Interface()))
}

var quantityType = reflect.TypeFor[quantity.Quantity]()

func columnsOf(elem reflect.Type, items []reflect.Value) ([]Column, error) {
	if elem.Kind() == reflect.Pointer && elem.Elem().Kind() == reflect.Struct {
		elem = elem.Elem()
		for i, item := range items {
			if item.IsNil() {
				return nil, fmt.Errorf("table: row %d is a nil pointer", i+1)
			}
			items[i] = item.Elem()
		}
	}
	if elem.Kind() != reflect.Struct || elem == quantityType {
		return []Column{columnOf("value", elem, items)}, nil
	}
	var columns []Column
	for _, field := range reflect.VisibleFields(elem) {
		if !field.IsExported() || field.Anonymous && field.Type.Kind() == reflect.Struct && field.Type != quantityType {
			continue
		}
		values := make([]reflect.Value, len(items))
		for i, item := range items {
			value, err := item.FieldByIndexErr(field.Index)
			if err != nil {
				return nil, fmt.Errorf("table: row %d: %w", i+1, err)
			}
			values[i] = value
		}
		name := field.Tag.Get("table")
		if name == "" {
			name = field.Name
		}
		columns = append(columns, columnOf(name, field.Type, values))
	}
	if len(columns) == 0 {
		return nil, fmt.Errorf("table: %s has no exported field", elem)
	}
	return columns, nil
}

func columnOf(name string, elem reflect.Type, values []reflect.Value) Column {
	_, prints := reflect.Zero(elem).Interface().(fmt.Stringer)
	switch {
	case elem == quantityType:
		quantities := make([]quantity.Quantity, len(values))
		for i, v := range values {
			quantities[i] = v.Interface().(quantity.Quantity)
		}
		return Quantities(name, quantities)
	case !prints && (elem.Kind() >= reflect.Int && elem.Kind() <= reflect.Float64 && elem.Kind() != reflect.Uintptr):
		numbers := make([]float64, len(values))
		for i, v := range values {
			numbers[i] = v.Convert(reflect.TypeFor[float64]()).Float()
		}
		return Numbers(name, numbers)
	}
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = fmt.Sprint(v.Interface())
	}
	return Texts(name, texts)
}
