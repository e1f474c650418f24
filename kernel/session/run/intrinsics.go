package run

import (
	"errors"
	"fmt"
	"go/types"
	"log"
	"reflect"
	"sync"
	"time"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// intrinsic stands for a compiled function that would end the process, or that an interrupt could
// not end, or that must see session types. It gets the call's frame, the places of its arguments and
// of its results.
type intrinsic func(fp pointer, args, results []uintptr)

// intrinsics by the name that ssa.Function.RelString(nil) gives. To add one: write the function, and
// a story among the test cells that would fail without it.
var intrinsics map[string]intrinsic

func init() {
	intrinsics = map[string]intrinsic{
		"os.Exit": func(fp pointer, a, _ []uintptr) { panic(exitRequest{*at[int](fp, a[0]), "os.Exit"}) },
		"log.Fatal": func(fp pointer, a, _ []uintptr) {
			log.Print(*at[[]any](fp, a[0])...)
			panic(exitRequest{1, "log.Fatal"})
		},
		"log.Fatalln": func(fp pointer, a, _ []uintptr) {
			log.Println(*at[[]any](fp, a[0])...)
			panic(exitRequest{1, "log.Fatalln"})
		},
		"log.Fatalf": func(fp pointer, a, _ []uintptr) {
			args := *at[[]any](fp, a[1])
			log.Printf(askBoxes(*at[string](fp, a[0]), args), args...)
			panic(exitRequest{1, "log.Fatalf"})
		},
		"runtime.SetFinalizer": func(fp pointer, a, _ []uintptr) {
			panic(&Refused{Reason: "a finalizer cannot be set in a cell", Instead: "use defer, or close what is open by name"})
		},
		"runtime.Goexit": func(pointer, []uintptr, []uintptr) { panic(goexit{}) },

		"time.Sleep": func(fp pointer, a, _ []uintptr) {
			timer := time.NewTimer(*at[time.Duration](fp, a[0]))
			defer timer.Stop()
			select {
			case <-timer.C:
			case <-head(fp).g.run.wake:
				panic(ErrInterrupted)
			}
		},
		"(*sync.Mutex).Lock": func(fp pointer, a, _ []uintptr) {
			m := *at[*sync.Mutex](fp, a[0])
			if !m.TryLock() {
				waitFor(fp, m.Lock, m.Unlock)
			}
		},
		"(*sync.RWMutex).Lock": func(fp pointer, a, _ []uintptr) {
			m := *at[*sync.RWMutex](fp, a[0])
			if !m.TryLock() {
				waitFor(fp, m.Lock, m.Unlock)
			}
		},
		"(*sync.RWMutex).RLock": func(fp pointer, a, _ []uintptr) {
			m := *at[*sync.RWMutex](fp, a[0])
			if !m.TryRLock() {
				waitFor(fp, m.RLock, m.RUnlock)
			}
		},
		"(*sync.WaitGroup).Wait": func(fp pointer, a, _ []uintptr) {
			waitFor(fp, (*at[*sync.WaitGroup](fp, a[0])).Wait, func() {})
		},

		"errors.As": errorsAs,
		"errors.Is": func(fp pointer, a, r []uintptr) {
			*at[bool](fp, r[0]) = errorsIs(*at[error](fp, a[0]), *at[error](fp, a[1]))
		},
		"reflect.DeepEqual": func(fp pointer, a, r []uintptr) {
			*at[bool](fp, r[0]) = deepEqual(*at[any](fp, a[0]), *at[any](fp, a[1]))
		},
		"fmt.Sprintf": func(fp pointer, a, r []uintptr) {
			args := *at[[]any](fp, a[1])
			*at[string](fp, r[0]) = fmt.Sprintf(askBoxes(*at[string](fp, a[0]), args), args...)
		},
	}
}

// waitFor waits in a way that an interrupt ends; what the wait would have taken is given back.
func waitFor(fp pointer, wait, giveBack func()) {
	done := make(chan struct{})
	go func() {
		wait()
		close(done)
	}()
	select {
	case <-done:
	case <-head(fp).g.run.wake:
		go func() {
			<-done
			giveBack()
		}()
		panic(ErrInterrupted)
	}
}

// intrinsic compiles a call of one of them.
func (c *compiler) intrinsic(f *ssa.Function, cc *ssa.CallCommon, to []uintptr, pos int64) (op, bool) {
	if f.Blocks != nil {
		return nil, false
	}
	do, ok := intrinsics[f.RelString(nil)]
	if !ok {
		return nil, false
	}
	args := make([]uintptr, len(cc.Args))
	for i, v := range cc.Args {
		args[i] = c.offset(v)
	}
	if len(to) != f.Signature.Results().Len() {
		to = c.unwanted(f)
	}
	return func(fp pointer) { head(fp).pos = pos; do(fp, args, to) }, true
}

// unwanted makes room for results that nobody takes, as under go and defer.
func (c *compiler) unwanted(f *ssa.Function) []uintptr {
	list := make([]uintptr, f.Signature.Results().Len())
	for i := range list {
		// The frame is sealed: results land in the slots of results of the function itself, which
		// a deferred call no longer needs.
		list[i] = c.fn.results[0].offset
	}
	return list
}

// intrinsicValue is an intrinsic as a function value.
func (c *compiler) intrinsicValue(f *ssa.Function) *closure {
	do, ok := intrinsics[f.RelString(nil)]
	if !ok {
		return nil
	}
	compiled := c.compiledFunction(f)
	t := compiled.Type()
	m := c.Machine
	wrapped := reflect.MakeFunc(t, func(args []reflect.Value) []reflect.Value {
		return callIntrinsic(m, do, t, args)
	})
	return m.foreign(wrapped)
}

func callIntrinsic(m *Machine, do intrinsic, t reflect.Type, args []reflect.Value) []reflect.Value {
	fields := []reflect.StructField{{Name: "H", Type: reflect.TypeFor[header]()}}
	for i := range t.NumIn() {
		fields = append(fields, reflect.StructField{Name: "A" + itoa(i), Type: t.In(i)})
	}
	for i := range t.NumOut() {
		fields = append(fields, reflect.StructField{Name: "R" + itoa(i), Type: t.Out(i)})
	}
	frame := reflect.New(reflect.StructOf(fields))
	fp := frame.UnsafePointer()
	head(fp).g = newRoutine(m.current.Load())
	var in, out []uintptr
	var results []reflect.Value
	for i, a := range args {
		frame.Elem().Field(i + 1).Set(a)
		in = append(in, frame.Elem().Type().Field(i+1).Offset)
	}
	for i := range t.NumOut() {
		f := frame.Elem().Type().Field(1 + len(args) + i)
		out = append(out, f.Offset)
		results = append(results, frame.Elem().Field(1+len(args)+i))
	}
	do(fp, in, out)
	return results
}

// ---- package errors over session types

// chain visits an error and all it wraps, in the order of errors.Is, until visit says it is done.
func chain(err error, visit func(error) bool) bool {
	for err != nil {
		if visit(err) {
			return true
		}
		switch x := err.(type) {
		case interface{ Unwrap() error }:
			err = x.Unwrap()
		case interface{ Unwrap() []error }:
			for _, inner := range x.Unwrap() {
				if chain(inner, visit) {
					return true
				}
			}
			return false
		default:
			return false
		}
	}
	return false
}

func errorsIs(err, target error) bool {
	if err == nil || target == nil {
		return errors.Is(err, target)
	}
	wanted := unadapted(target)
	b, boxed := wanted.(box)
	comparable := boxed && types.Comparable(b.record().t) || !boxed && reflect.TypeOf(target).Comparable()
	return chain(err, func(e error) bool {
		if comparable && sameDynamicType(unadapted(e), wanted) && equalInterfaces(unadapted(e), wanted) {
			return true
		}
		x, ok := e.(interface{ Is(error) bool })
		return ok && x.Is(target)
	})
}

func sameDynamicType(a, b any) bool {
	x, boxed := a.(box)
	y, alsoBoxed := b.(box)
	if boxed || alsoBoxed {
		return boxed && alsoBoxed && x.record() == y.record()
	}
	return reflect.TypeOf(a) == reflect.TypeOf(b)
}

// errorsAs is errors.As, whose target may point to a type of the session.
func errorsAs(fp pointer, a, r []uintptr) {
	err, target := *at[error](fp, a[0]), *at[any](fp, a[1])
	p, ok := target.(pointerBox)
	if !ok {
		*at[bool](fp, r[0]) = errors.As(err, target)
		return
	}
	want, isPointer := isPointerTo(p.rec.t)
	if !isPointer || p.p == nil {
		panic("errors: target must be a non-nil pointer")
	}
	*at[bool](fp, r[0]) = p.rec.machine.asSession(err, want, p.p, target)
}

func (m *Machine) asSession(err error, want types.Type, to pointer, target any) bool {
	var store func(pointer, any)
	if types.IsInterface(want) {
		store = m.locked(func() any { return m.storeInterface(want) }).(func(pointer, any))
	}
	return chain(err, func(e error) bool {
		v := unadapted(e)
		if b, ok := v.(box); ok && store == nil && types.Identical(b.record().t, want) {
			b.load(to)
			return true
		}
		if store != nil {
			s := &assertion{Machine: m, to: want}
			if s.missingMethod(v) == "" {
				store(to, v)
				return true
			}
		}
		b, ok := v.(symbols.Methods)
		if ok && b.HasMethod("As", "func(any) bool") {
			var as bool
			callMethod(v.(box), "As", []pointer{pointer(&target)}, []pointer{pointer(&as)})
			return as
		}
		return false
	})
}

func deepEqual(a, b any) bool {
	x, boxed := a.(box)
	y, alsoBoxed := b.(box)
	if boxed != alsoBoxed {
		return false
	}
	if !boxed {
		return reflect.DeepEqual(a, b)
	}
	return x.record() == y.record() && reflect.DeepEqual(plain(x).Interface(), plain(y).Interface())
}
