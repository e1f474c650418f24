package symbols

import (
	"bufio"
	"bytes"
	"compress/flate"
	"encoding/json"
	"errors"
	"fmt"
	"go/types"
	"io"
	"io/fs"
	"reflect"
	"sort"
	"strings"
	"testing"
	"unsafe"

	"cobber/kernel/symbols/signature"
)

// puppet is a session value whose methods are set by the test.
type puppet struct{ *strings.Builder } // the log of calls; a pointer, so that puppets compare

type behaviour func(in, out []unsafe.Pointer)

var behaviours = map[*strings.Builder]map[string]behaviour{}

// newPuppet makes a value with methods named as "Name signature".
func newPuppet(methods map[string]behaviour) puppet {
	p := puppet{new(strings.Builder)}
	behaviours[p.Builder] = methods
	return p
}

func (p puppet) CallMethod(name string, in, out []unsafe.Pointer) {
	fmt.Fprintf(p, "%s ", name)
	for key, method := range behaviours[p.Builder] {
		if strings.HasPrefix(key, name+" ") {
			method(in, out)
			return
		}
	}
	panic("no method " + name)
}

func (p puppet) HasMethod(name, signature string) bool {
	return behaviours[p.Builder][name+" "+signature] != nil
}

func (p puppet) Format(state fmt.State, verb rune) {
	fmt.Fprintf(state, "<puppet %s>", fmt.FormatString(state, verb))
}

// bare is a receiver that says nothing of its methods.
type bare struct{ name string }

func (b bare) CallMethod(name string, in, out []unsafe.Pointer) {
	*(*string)(out[0]) = b.name + "." + name
}

// Every interface a compiled function can ask for has an adapter, and the
// adapter does implement it.
func TestEveryInterfaceHasItsAdapter(t *testing.T) {
	s := newSession()
	checked := 0
	for _, path := range Packages() {
		pkg, err := s.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range pkg.Scope().Names() {
			object, ok := pkg.Scope().Lookup(name).(*types.TypeName)
			if !ok || !object.Exported() || object.IsAlias() || isGeneric(object) {
				continue
			}
			inter, ok := object.Type().Underlying().(*types.Interface)
			if !ok || inter.NumMethods() == 0 || !onlyExported(inter) {
				continue
			}
			checked++
			adapter, ok := NewAdapter(path, name, bare{})
			if !ok {
				t.Errorf("%s.%s has no adapter", path, name)
				continue
			}
			compiled, _ := Lookup(path, name)
			if !reflect.TypeOf(adapter).Implements(compiled.Type().Elem()) {
				t.Errorf("the adapter of %s.%s does not implement it", path, name)
			}
			if _, ok := adapter.(fmt.Formatter); !ok {
				t.Errorf("the adapter of %s.%s cannot be shown", path, name)
			}
		}
	}
	if checked < 120 {
		t.Errorf("only %d interfaces were looked at", checked)
	}
}

func onlyExported(inter *types.Interface) bool {
	for i := range inter.NumMethods() {
		if !inter.Method(i).Exported() {
			return false
		}
	}
	return true
}

func TestTableOfAdaptersIsTrue(t *testing.T) {
	for i, entry := range adapters {
		adapter := reflect.TypeOf(makeAdapter(i, bare{}))
		for _, method := range entry.methods {
			if _, ok := adapter.MethodByName(method.name); !ok {
				t.Errorf("the adapter of %s lacks %s", entry.name, method.name)
			}
		}
		for j, wider := range entry.wider {
			if len(adapters[wider].methods) <= len(entry.methods) {
				t.Errorf("%s is not wider than %s", adapters[wider].name, entry.name)
			}
			if j > 0 && len(adapters[wider].methods) > len(adapters[entry.wider[j-1]].methods) {
				t.Errorf("the adapters wider than %s are not in order", entry.name)
			}
		}
	}
}

func TestNoAdapter(t *testing.T) {
	for _, test := range [][2]string{{"reflect", "Type"}, {"io", "Nothing"}, {"", "any"}, {"nothing", "Reader"}} {
		if adapter, ok := NewAdapter(test[0], test[1], bare{}); ok {
			t.Errorf("%s.%s has an adapter, %T", test[0], test[1], adapter)
		}
	}
}

func TestCallsPassThroughAdapters(t *testing.T) {
	text := "ore and gangue"
	p := newPuppet(map[string]behaviour{"Read func([]uint8) (int, error)": func(in, out []unsafe.Pointer) {
		n := copy(*(*[]byte)(in[0]), text)
		text = text[n:]
		*(*int)(out[0]) = n
		if n == 0 {
			*(*error)(out[1]) = io.EOF
		}
	}})
	adapter, ok := NewAdapter("io", "Reader", p)
	if !ok {
		t.Fatal("io.Reader has no adapter")
	}
	read, err := io.ReadAll(bufio.NewReaderSize(adapter.(io.Reader), 16))
	if string(read) != "ore and gangue" || err != nil {
		t.Errorf("read %q, %v", read, err)
	}

	values := []int{3, 1, 2}
	s, _ := NewAdapter("sort", "Interface", newPuppet(map[string]behaviour{
		"Len func() int":           func(in, out []unsafe.Pointer) { *(*int)(out[0]) = len(values) },
		"Less func(int, int) bool": func(in, out []unsafe.Pointer) { *(*bool)(out[0]) = values[*(*int)(in[0])] < values[*(*int)(in[1])] },
		"Swap func(int, int)": func(in, out []unsafe.Pointer) {
			i, j := *(*int)(in[0]), *(*int)(in[1])
			values[i], values[j] = values[j], values[i]
		},
	}))
	sort.Sort(s.(sort.Interface))
	if fmt.Sprint(values) != "[1 2 3]" {
		t.Errorf("sorted to %v", values)
	}
}

func TestAdaptersCompareByValue(t *testing.T) {
	one, _ := NewAdapter("fmt", "Stringer", bare{"one"})
	again, _ := NewAdapter("fmt", "Stringer", bare{"one"})
	two, _ := NewAdapter("fmt", "Stringer", bare{"two"})
	other, _ := NewAdapter("", "error", bare{"one"})
	if one != again || one == two || one == other {
		t.Errorf("one == again is %v, one == two is %v, one == other is %v", one == again, one == two, one == other)
	}
	if map[any]int{one: 1}[again] != 1 {
		t.Error("equal adapters are different keys of a map")
	}
	if value := one.(interface{ SessionValue() Receiver }).SessionValue(); value != (bare{"one"}) {
		t.Errorf("the session value is %v", value)
	}
}

func TestAdaptersShowTheSessionValue(t *testing.T) {
	shown, _ := NewAdapter("", "error", newPuppet(nil))
	for format, want := range map[string]string{
		"%v": "<puppet %v>", "%+v": "<puppet %+v>", "%#v": "<puppet %#v>", "%8.3q": "<puppet %8.3q>",
	} {
		if got := fmt.Sprintf(format, shown); got != want {
			t.Errorf("%s gives %s, want %s", format, got, want)
		}
	}
	plain, _ := NewAdapter("", "error", bare{"one"})
	if got := fmt.Sprintf("%+v", plain); got != "{name:one}" {
		t.Errorf("a receiver without Format is shown as %s", got)
	}
}

func TestErrorsSeeThroughAdapters(t *testing.T) {
	says := func(text string) behaviour {
		return func(in, out []unsafe.Pointer) { *(*string)(out[0]) = text }
	}
	adapt := func(methods map[string]behaviour) error {
		methods["Error func() string"] = says("ours")
		adapter, _ := NewAdapter("", "error", newPuppet(methods))
		return adapter.(error)
	}
	plain := adapt(map[string]behaviour{})
	if plain.Error() != "ours" || errors.Is(plain, io.EOF) || errors.Unwrap(plain) != nil || !errors.Is(fmt.Errorf("in: %w", plain), plain) {
		t.Error("a plain error is not only itself")
	}
	var path *fs.PathError
	if errors.As(plain, &path) {
		t.Error("a plain error is taken for a PathError")
	}
	wrapping := adapt(map[string]behaviour{"Unwrap func() error": func(in, out []unsafe.Pointer) {
		*(*error)(out[0]) = &fs.PathError{Err: io.EOF}
	}})
	if !errors.Is(wrapping, io.EOF) || !errors.As(wrapping, &path) {
		t.Error("the wrapped error is not found")
	}
	joined := adapt(map[string]behaviour{"Unwrap func() []error": func(in, out []unsafe.Pointer) {
		*(*[]error)(out[0]) = []error{io.EOF, plain}
	}})
	if !errors.Is(joined, io.EOF) || !errors.Is(joined, plain) || errors.Unwrap(joined) != nil {
		t.Error("the joined errors are not found")
	}
	alike := adapt(map[string]behaviour{
		"Is func(error) bool": func(in, out []unsafe.Pointer) { *(*bool)(out[0]) = *(*error)(in[0]) == io.EOF },
		"As func(any) bool": func(in, out []unsafe.Pointer) {
			if target, ok := (*(*any)(in[0])).(**fs.PathError); ok {
				*target, *(*bool)(out[0]) = &fs.PathError{Op: "as"}, true
			}
		},
	})
	if !errors.Is(alike, io.EOF) || errors.Is(alike, io.ErrClosedPipe) || !errors.As(alike, &path) || path.Op != "as" {
		t.Error("the value's own Is and As are not asked")
	}
}

// Compiled code asks by assertion for methods beside those of the interface.
func TestOptionalMethodsAreFound(t *testing.T) {
	none := func(in, out []unsafe.Pointer) {}
	read, write := "Read func([]uint8) (int, error)", "Write func([]uint8) (int, error)"
	adapt := func(path, name string, methods ...string) any {
		set := map[string]behaviour{}
		for _, method := range methods {
			set[method] = none
		}
		adapter, ok := NewAdapter(path, name, newPuppet(set))
		if !ok {
			t.Fatalf("%s.%s has no adapter", path, name)
		}
		return adapter
	}
	if _, ok := adapt("io", "Reader", read).(io.WriterTo); ok {
		t.Error("a reader has a method WriteTo from nowhere")
	}
	if _, ok := adapt("io", "Reader", read, "WriteTo func(io.Writer) (int64, error)").(io.WriterTo); !ok {
		t.Error("the method WriteTo of a reader is lost")
	}
	if _, ok := adapt("io", "Reader", read, "ReadByte func() (uint8, error)").(flate.Reader); !ok {
		t.Error("the method ReadByte of a reader is lost")
	}
	if _, ok := adapt("io", "Writer", read, write, "Close func() error").(io.ReadWriteCloser); !ok {
		t.Error("the methods Read and Close of a writer are lost")
	}
	if _, ok := adapt("io", "Writer", write, "WriteString func(string) (int, error)").(io.StringWriter); !ok {
		t.Error("the method WriteString of a writer is lost")
	}
	if _, ok := adapt("io", "Writer", write, "WriteString func(string) int").(io.StringWriter); ok {
		t.Error("a method WriteString of another signature is taken for io.StringWriter's")
	}
	if _, ok := adapt("", "error", "Error func() string", "Timeout func() bool", "Temporary func() bool").(interface{ Timeout() bool }); !ok {
		t.Error("the method Timeout of an error is lost")
	}
	if _, ok := adapt("io/fs", "FS", "Open func(string) (io/fs.File, error)", "ReadFile func(string) ([]uint8, error)").(fs.ReadFileFS); !ok {
		t.Error("the method ReadFile of a file system is lost")
	}
}

func TestJSONThroughAnAdapter(t *testing.T) {
	adapter, _ := NewAdapter("encoding/json", "Marshaler", newPuppet(map[string]behaviour{
		"MarshalJSON func() ([]uint8, error)": func(in, out []unsafe.Pointer) { *(*[]byte)(out[0]) = []byte(`{"grade":0.31}`) },
	}))
	var text bytes.Buffer
	if err := json.NewEncoder(&text).Encode([]any{adapter}); err != nil || text.String() != `[{"grade":0.31}]`+"\n" {
		t.Errorf("got %s, %v", text.String(), err)
	}
}

func TestSignature(t *testing.T) {
	s := newSession()
	for _, test := range []struct{ path, typ, method, want string }{
		{"io", "Reader", "Read", "func([]uint8) (int, error)"},
		{"context", "Context", "Value", "func(any) any"},
		{"fmt", "State", "Flag", "func(int) bool"},
		{"io", "RuneReader", "ReadRune", "func() (int32, int, error)"},
		{"net/http", "Handler", "ServeHTTP", "func(net/http.ResponseWriter, *net/http.Request)"},
		{"testing", "B", "Logf", "func(string, ...any)"},
		{"context", "Context", "Done", "func() <-chan (struct{})"},
		{"sync/atomic", "Value", "Load", "func() any"},
		{"strings", "Builder", "Len", "func() int"},
	} {
		pkg, err := s.Import(test.path)
		if err != nil {
			t.Fatal(err)
		}
		object, _, _ := types.LookupFieldOrMethod(types.NewPointer(pkg.Scope().Lookup(test.typ).Type()), true, pkg, test.method)
		if object == nil {
			object, _, _ = types.LookupFieldOrMethod(pkg.Scope().Lookup(test.typ).Type(), true, pkg, test.method)
		}
		if got := signature.Of(object.(*types.Func).Signature()); got != test.want {
			t.Errorf("%s.%s.%s is %q, want %q", test.path, test.typ, test.method, got, test.want)
		}
	}
}
