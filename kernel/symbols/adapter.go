package symbols

import (
	"fmt"
	"slices"
	"strings"
	"unsafe"
)

// Receiver is a value of a session behind a compiled interface: all that
// compiled code knows of it is that its methods can be called. Implementations
// must be comparable, and equal when the session's values are.
type Receiver interface {
	// CallMethod calls the method of that name. Each element of in points to an
	// argument, each of out to where a result is to be put, with the types
	// that the compiled interface has; a variadic argument is its slice.
	CallMethod(name string, in, out []unsafe.Pointer)
}

// Methods is what a Receiver may implement to say which methods its value has
// besides those it was adapted for. The signature is written as package
// signature writes it, such as "func([]uint8) (int, error)".
type Methods interface {
	HasMethod(name, signature string) bool
}

// Adapter is embedded in every generated adapter. Adapters compare by value:
// two are equal when they are for the same interface and their receivers are
// equal.
type Adapter struct{ Receiver }

// SessionValue is the value behind the adapter.
func (a Adapter) SessionValue() Receiver { return a.Receiver }

// Format shows the session's value, not the adapter.
func (a Adapter) Format(state fmt.State, verb rune) {
	if formatter, ok := a.Receiver.(fmt.Formatter); ok {
		formatter.Format(state, verb)
		return
	}
	fmt.Fprintf(state, fmt.FormatString(state, verb), a.Receiver)
}

func (a Adapter) has(name, signature string) bool {
	return hasMethod(a.Receiver, name, signature)
}

func hasMethod(r Receiver, name, signature string) bool {
	methods, ok := r.(Methods)
	return ok && methods.HasMethod(name, signature)
}

// ErrorAdapter is embedded in adapters of interfaces that are errors. It has
// the methods that package errors looks for, and asks the value for them; a
// value without one answers as package errors takes the lack of it.
type ErrorAdapter struct{ Adapter }

// Is asks the value's own Is.
func (a ErrorAdapter) Is(target error) (is bool) {
	if a.has("Is", "func(error) bool") {
		a.CallMethod("Is", []unsafe.Pointer{unsafe.Pointer(&target)}, []unsafe.Pointer{unsafe.Pointer(&is)})
	}
	return is
}

// As asks the value's own As.
func (a ErrorAdapter) As(target any) (as bool) {
	if a.has("As", "func(any) bool") {
		a.CallMethod("As", []unsafe.Pointer{unsafe.Pointer(&target)}, []unsafe.Pointer{unsafe.Pointer(&as)})
	}
	return as
}

// Unwrap asks the value's own Unwrap.
func (a ErrorAdapter) Unwrap() (wrapped error) {
	if a.has("Unwrap", "func() error") {
		a.CallMethod("Unwrap", nil, []unsafe.Pointer{unsafe.Pointer(&wrapped)})
	}
	return wrapped
}

// joinedError adapts an error that wraps several.
type joinedError struct{ ErrorAdapter }

func (a joinedError) Error() (text string) {
	a.CallMethod("Error", nil, []unsafe.Pointer{unsafe.Pointer(&text)})
	return text
}

func (a joinedError) Unwrap() (wrapped []error) {
	a.CallMethod("Unwrap", nil, []unsafe.Pointer{unsafe.Pointer(&wrapped)})
	return wrapped
}

// adapterEntry describes one generated adapter.
type adapterEntry struct {
	name    string // "io.Reader"; several joined by "+" when made for optional methods
	methods []adapterMethod
	wider   []uint16 // adapters with more methods, the most first
}

type adapterMethod struct{ name, signature string }

// NewAdapter gives a value that implements the compiled interface path.name by
// calling r; the predeclared error has the path "". When r implements Methods,
// the adapter also has the optional methods that compiled code asks for by
// assertion (io.WriterTo of an io.Reader), so far as there is an adapter with
// all of them. It is false for interfaces that have no adapter: those with
// unexported methods, and those without methods, which need none.
func NewAdapter(path, name string, r Receiver) (any, bool) {
	key := name
	if path != "" {
		key = path + "." + name
	}
	index, ok := findAdapter(key)
	if !ok {
		return nil, false
	}
	if key == "error" && hasMethod(r, "Unwrap", "func() []error") {
		return joinedError{ErrorAdapter{Adapter{r}}}, true
	}
	return makeAdapter(widest(index, r), r), true
}

// Implements tells whether r has the methods of the compiled interface path.name;
// known is false for interfaces that have no adapter.
func Implements(path, name string, r Receiver) (implements, known bool) {
	key := name
	if path != "" {
		key = path + "." + name
	}
	index, known := findAdapter(key)
	return known && fits(index, r), known
}

func findAdapter(key string) (int, bool) {
	return slices.BinarySearchFunc(adapters, key, func(entry adapterEntry, key string) int {
		return strings.Compare(entry.name, key)
	})
}

// widest is the adapter with the most methods that r has, among those that
// have all methods of the given one.
func widest(index int, r Receiver) int {
	if _, ok := r.(Methods); !ok {
		return index
	}
	for _, wider := range adapters[index].wider {
		if fits(int(wider), r) {
			return int(wider)
		}
	}
	return index
}

func fits(index int, r Receiver) bool {
	for _, method := range adapters[index].methods {
		if !hasMethod(r, method.name, method.signature) {
			return false
		}
	}
	return true
}
