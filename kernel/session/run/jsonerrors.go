package run

import (
	"encoding/json"
	"errors"
	"go/types"
	"reflect"
	"strings"

	"golang.org/x/tools/go/ssa"
)

// namesJSONErrors puts the name of the session's struct into an error of encoding/json, which saw a
// struct without a name.
func namesJSONErrors(f *ssa.Function) bool {
	return packageOf(f) == "encoding/json" && (f.Name() == "Unmarshal" || f.Name() == "Decode")
}

func nameJSONError(target any, results []reflect.Value) {
	b, ok := target.(box)
	err, isError := results[len(results)-1].Interface().(error)
	var wrong *json.UnmarshalTypeError
	if !ok || !isError || !errors.As(err, &wrong) || wrong.Struct != "" || wrong.Field == "" {
		return
	}
	wrong.Struct = structHolding(b.record().t, strings.Split(wrong.Field, "."))
}

// structHolding names the struct in which the last field of a path of JSON names stands.
func structHolding(t types.Type, path []string) string {
	for {
		switch u := t.Underlying().(type) {
		case *types.Pointer:
			t = u.Elem()
		case *types.Slice:
			t = u.Elem()
		case *types.Array:
			t = u.Elem()
		case *types.Map:
			if len(path) < 2 {
				return ""
			}
			t, path = u.Elem(), path[1:]
		case *types.Struct:
			if len(path) == 1 {
				if n, ok := types.Unalias(t).(*types.Named); ok {
					return n.Obj().Name()
				}
				return ""
			}
			next := jsonField(u, path[0])
			if next == nil {
				return ""
			}
			t, path = next, path[1:]
		default:
			return ""
		}
	}
}

func jsonField(s *types.Struct, name string) types.Type {
	for i := range s.NumFields() {
		tag, _, _ := strings.Cut(reflect.StructTag(s.Tag(i)).Get("json"), ",")
		if tag == name || tag == "" && strings.EqualFold(s.Field(i).Name(), name) {
			return s.Field(i).Type()
		}
	}
	return nil
}
