package symbols

import (
	"fmt"
	"go/types"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"
	"unsafe"
)

// called is a function with arguments to try it on.
type called struct {
	name      string
	function  reflect.Value
	arguments []any
}

func must(value reflect.Value, ok bool) reflect.Value {
	if !ok {
		panic("not found")
	}
	return value
}

func someCalls() []called {
	text := func() *strings.Builder { b := new(strings.Builder); b.WriteString("ore "); return b }
	return []called{
		{"math.Sqrt", must(Lookup("math", "Sqrt")), []any{2.0}},
		{"math.Modf", must(Lookup("math", "Modf")), []any{2.5}},
		{"math.Pow", must(Lookup("math", "Pow")), []any{2.0, 0.5}},
		{"strings.Repeat", must(Lookup("strings", "Repeat")), []any{"ab", 3}},
		{"strings.Split", must(Lookup("strings", "Split")), []any{"a,b", ","}},
		{"strings.Cut", must(Lookup("strings", "Cut")), []any{"a,b", ","}},
		{"strconv.Atoi", must(Lookup("strconv", "Atoi")), []any{"x12"}},
		{"strconv.FormatFloat", must(Lookup("strconv", "FormatFloat")), []any{0.5, byte('g'), -1, 64}},
		{"fmt.Sprintf", must(Lookup("fmt", "Sprintf")), []any{"%v-%v", []any{1, "a"}}},
		{"fmt.Sprint", must(Lookup("fmt", "Sprint")), []any{[]any(nil)}},
		{"Builder.WriteString", must(Method("strings", "Builder", "WriteString")), []any{text(), "x"}},
		{"Builder.Reset", must(Method("strings", "Builder", "Reset")), []any{text()}},
		{"Time.Add", must(Method("time", "Time", "Add")), []any{time.Unix(0, 0), time.Hour}},
		{"Duration.Hours", must(Method("time", "Duration", "Hours")), []any{90 * time.Minute}},
		{"Stringer.String", must(Method("fmt", "Stringer", "String")), []any{fmt.Stringer(time.Second)}},
	}
}

// block is a value of its own memory, as a frame's slot is.
func block(t reflect.Type, value any) reflect.Value {
	slot := reflect.New(t)
	if value != nil {
		slot.Elem().Set(reflect.ValueOf(value))
	}
	return slot
}

// slots gives memory for the arguments, filled, and for the results, empty.
func (c called) slots() (args, results []reflect.Value) {
	for i, argument := range c.arguments {
		args = append(args, block(c.function.Type().In(i), argument))
	}
	for i := range c.function.Type().NumOut() {
		results = append(results, block(c.function.Type().Out(i), nil))
	}
	return args, results
}

func (c called) byReflection() []any {
	args, _ := c.slots()
	values := make([]reflect.Value, len(args))
	for i, arg := range args {
		values[i] = arg.Elem()
	}
	out := c.function.Call
	if c.function.Type().IsVariadic() {
		out = c.function.CallSlice
	}
	var results []any
	for _, value := range out(values) {
		results = append(results, value.Interface())
	}
	return results
}

func addresses(slots []reflect.Value) []unsafe.Pointer {
	list := make([]unsafe.Pointer, len(slots))
	for i, slot := range slots {
		list[i] = slot.UnsafePointer()
	}
	return list
}

func contents(slots []reflect.Value) []any {
	var list []any
	for _, slot := range slots {
		list = append(list, slot.Elem().Interface())
	}
	return list
}

func TestFastCallsAgreeWithReflection(t *testing.T) {
	for _, c := range someCalls() {
		fast, ok := FastCall(c.function)
		if !ok {
			t.Errorf("%s has no fast call", c.name)
			continue
		}
		args, results := c.slots()
		fast(addresses(args), addresses(results))
		want := fmt.Sprint(someCallNamed(c.name).byReflection())
		if got := fmt.Sprint(contents(results)); got != want {
			t.Errorf("%s gives %s, want %s", c.name, got, want)
		}
	}
}

// someCallNamed makes the call anew, with arguments no other call has changed.
func someCallNamed(name string) called {
	for _, c := range someCalls() {
		if c.name == name {
			return c
		}
	}
	panic(name)
}

func TestBoundCallsAgreeWithReflection(t *testing.T) {
	for _, c := range someCalls() {
		var fields []reflect.StructField
		var offsets []uintptr
		for i := range c.arguments {
			fields = append(fields, reflect.StructField{Name: fmt.Sprint("A", i), Type: c.function.Type().In(i)})
		}
		for i := range c.function.Type().NumOut() {
			fields = append(fields, reflect.StructField{Name: fmt.Sprint("R", i), Type: c.function.Type().Out(i)})
		}
		frame := reflect.New(reflect.StructOf(fields))
		for i := range fields {
			offsets = append(offsets, frame.Elem().Type().Field(i).Offset)
			if i < len(c.arguments) && c.arguments[i] != nil {
				frame.Elem().Field(i).Set(reflect.ValueOf(c.arguments[i]))
			}
		}
		bound, ok := BindCall(c.function, offsets[:len(c.arguments)], offsets[len(c.arguments):])
		if !ok {
			t.Errorf("%s cannot be bound", c.name)
			continue
		}
		bound(frame.UnsafePointer())
		var got []any
		for i := len(c.arguments); i < len(fields); i++ {
			got = append(got, frame.Elem().Field(i).Interface())
		}
		if want := someCallNamed(c.name).byReflection(); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s gives %v, want %v", c.name, got, want)
		}
	}
}

// What has a fast path must be what is called most; the packages of the library
// have it throughout, up to types that cannot be written down elsewhere.
func TestLibraryIsCalledWithoutReflection(t *testing.T) {
	s := newSession()
	var slow, all int
	for name, path := range Library() {
		pkg, err := s.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, object := range pkg.Scope().Names() {
			function, ok := pkg.Scope().Lookup(object).(*types.Func)
			if !ok || !function.Exported() || isGeneric(function) {
				continue
			}
			all++
			if _, ok := FastCall(must(Lookup(path, object))); !ok {
				slow++
				t.Logf("%s.%s is called by reflection", name, object)
			}
		}
	}
	if all == 0 || slow > all/20 {
		t.Errorf("%d of %d functions of the library are called by reflection", slow, all)
	}
}

func TestNoFastCall(t *testing.T) {
	type odd struct{ a, b int }
	if _, ok := FastCall(reflect.ValueOf(func(odd) odd { return odd{} })); ok {
		t.Error("a function of a type known only here has a fast call")
	}
	if _, ok := Method("strings", "Builder", "Nothing"); ok {
		t.Error("strings.Builder has a method Nothing")
	}
}

func BenchmarkCall(b *testing.B) {
	for _, name := range []string{"math.Sqrt", "strings.Cut", "Builder.Reset", "Time.Add", "fmt.Sprint"} {
		c := someCallNamed(name)
		args, results := c.slots()
		b.Run(name+"/reflection", func(b *testing.B) {
			b.ReportAllocs()
			values := make([]reflect.Value, len(args))
			call := c.function.Call
			if c.function.Type().IsVariadic() {
				call = c.function.CallSlice
			}
			for b.Loop() {
				for i, arg := range args {
					values[i] = arg.Elem()
				}
				for i, value := range call(values) {
					results[i].Elem().Set(value)
				}
			}
		})
		b.Run(name+"/fast", func(b *testing.B) {
			b.ReportAllocs()
			fast, _ := FastCall(c.function)
			in, out := addresses(args), addresses(results)
			for b.Loop() {
				fast(in, out)
			}
		})
	}
	b.Run("math.Sqrt/bound", func(b *testing.B) {
		frame := [2]float64{2, 0}
		bound, _ := BindCall(reflect.ValueOf(math.Sqrt), []uintptr{0}, []uintptr{8})
		for b.Loop() {
			bound(unsafe.Pointer(&frame))
		}
	})
}

func BenchmarkImport(b *testing.B) {
	for _, path := range []string{"cmp", "fmt", "strings", "time", "reflect", "net/http", "go/types"} {
		b.Run(path, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := newSession().Import(path); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("all into one session", func(b *testing.B) {
		for b.Loop() {
			s := newSession()
			for _, path := range Packages() {
				if _, err := s.Import(path); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
