package run

import (
	"errors"
	"go/types"
	"io"
	"reflect"
	"sync"
	"sync/atomic"
	"time"
	"unsafe"

	"golang.org/x/tools/go/ssa"
	"golang.org/x/tools/go/types/typeutil"
)

type pointer = unsafe.Pointer

// Machine holds what outlives a cell: compiled functions, session variables, type records.
type Machine struct {
	Program *ssa.Program
	// FromSource says whether a package runs from source (cells, and the generic packages).
	FromSource func(*types.Package) bool

	compiling sync.Mutex // one compilation at a time; also guards layouts
	functions sync.Map   // *ssa.Function -> *function
	globals   sync.Map   // *ssa.Global -> pointer
	layouts   map[types.Type]reflect.Type
	records   typeutil.Map // types.Type -> *record
	recording sync.Mutex
	nextID    atomic.Int64
	entries   atomic.Int64 // calls from compiled code into cells that have not returned
	current   atomic.Pointer[Run]

	parallel atomic.Bool // goroutines have been started
	counters *counters
}

// New makes a machine for the functions of one program.
func New(program *ssa.Program, fromSource func(*types.Package) bool) *Machine {
	return &Machine{Program: program, FromSource: fromSource, layouts: map[types.Type]reflect.Type{}, counters: newCounters()}
}

// Run is one execution of a cell: what an interrupt stops, goroutines included.
type Run struct {
	stopped atomic.Bool
	wake    chan struct{} // closed by Stop, so that waits end
	once    sync.Once
	spare   sync.Pool               // of *routine, for calls from compiled code
	crossed atomic.Pointer[[]Call]  // of a panic on its way through compiled code
	entered atomic.Int64            // calls of routines entered from compiled code
	live    atomic.Int64            // goroutines that cells have started
	ends    atomic.Pointer[Failure] // in a goroutine, of the kind that ends a program
	full    atomic.Bool             // memory has run out

	overflowing atomic.Bool // a recursion that is too deep is on its way out, to a bottom of ours
	// Report receives a panic in a goroutine that the cell started.
	Report func(*Failure)
	// Own, where it is set, gives what takes the text that the run prints by itself, because what the
	// process prints belongs to another run by now; nil where the run prints as the process does.
	Own func() func(stream, text string)
	// Standard error of the cell, for the print and println builtins.
	Stderr func(text string)
	// Standard input of the cell; nil for that of the process.
	Stdin io.Reader
	// Hooks of the session; set before the run.
	Hooks Hooks
	first *routine // the cell's own
}

// own gives what takes the text that the run prints by itself, or nil.
func (r *Run) own() func(stream, text string) {
	if r.Own == nil {
		return nil
	}
	return r.Own()
}

// NewRun makes a run that has not been stopped.
func NewRun() *Run { return &Run{wake: make(chan struct{})} }

// Stop interrupts the run; safe from any goroutine, any number of times.
func (r *Run) Stop() {
	r.once.Do(func() {
		r.stopped.Store(true)
		close(r.wake)
	})
}

// Compile makes every function of the package ready, so that what cannot run is refused before
// anything has run.
func (m *Machine) Compile(pkg *ssa.Package) (err error) {
	defer func() {
		if r := recover(); r != nil {
			refused, ok := r.(*Refused)
			if !ok {
				panic(r)
			}
			err = refused
		}
	}()
	for _, member := range pkg.Members {
		if f, ok := member.(*ssa.Function); ok && f.Blocks != nil {
			m.compileAll(f)
		}
		if t, ok := member.(*ssa.Type); ok {
			m.compileMethods(t.Type())
		}
	}
	return nil
}

func (m *Machine) compileMethods(t types.Type) {
	named, ok := types.Unalias(t).(*types.Named)
	if !ok || named.TypeParams().Len() > 0 {
		return
	}
	for i := range named.NumMethods() {
		if f := m.Program.FuncValue(named.Method(i)); f != nil && f.Blocks != nil {
			m.compileAll(f)
		}
	}
}

func (m *Machine) compileAll(f *ssa.Function) {
	if f.TypeParams().Len() > 0 && len(f.TypeArgs()) == 0 {
		return
	}
	m.function(f).ensure()
	for _, inner := range f.AnonFuncs {
		m.compileAll(inner)
	}
}

// Call runs a function without parameters and results. A panic comes back as a *Failure, an
// interrupt as [ErrInterrupted].
func (m *Machine) Call(run *Run, f *ssa.Function) error {
	m.current.Store(run)
	defer m.replaceStopped(run)
	defer run.watch()()
	ended := make(chan error, 1)
	go m.atBottom(run, f, ended)
	return run.await(ended)
}

// await waits for the goroutine of the run; a run that is stopped has some patience with it.
func (r *Run) await(ended <-chan error) error {
	select {
	case err := <-ended:
		return r.outcome(err)
	case <-r.wake:
	}
	select {
	case err := <-ended:
		return r.outcome(err)
	case <-time.After(patience):
		return r.outcome(ErrLeft)
	}
}

// replaceStopped lets what compiled code calls later be no part of a stopped run.
func (m *Machine) replaceStopped(run *Run) {
	if run.stopped.Load() {
		m.current.Store(&Run{wake: make(chan struct{}), Report: run.Report, Stderr: run.Stderr})
	}
}

// Beside runs a function of compiled code that calls functions of cells: as a run of its own, or
// beside the one that is under way, as a goroutine of that would. It waits for the end.
func (m *Machine) Beside(run *Run, underWay bool, do func()) error {
	if underWay {
		m.parallel.Store(true)
		run = m.current.Load()
	} else {
		m.current.Store(run)
		defer m.replaceStopped(run)
		defer run.watch()()
	}
	ended := make(chan error, 1)
	go m.atBottomBeside(run, do, ended)
	return run.await(ended)
}

func (m *Machine) atBottomBeside(run *Run, do func(), ended chan<- error) {
	err := ErrGoexit
	defer func() {
		if r := recover(); r != nil {
			err = newRoutine(run).failure(r)
		}
		ended <- err
	}()
	do()
	err = nil
}

// patience is how long an interrupted cell may take to notice. One that then is still in a call of a
// compiled package is left to itself; it stops where that call returns.
const patience = time.Second

// atBottom runs the function at the bottom of a goroutine of its own.
func (m *Machine) atBottom(run *Run, f *ssa.Function, ended chan<- error) {
	g := newRoutine(run)
	run.first = g
	err := ErrGoexit // unless something else is known: Goexit of compiled code passes recover by
	defer func() {
		if r := recover(); r != nil {
			err = g.failure(r)
		}
		ended <- err
	}()
	fn := m.function(f)
	frame := fn.get(g)
	fn.exec(frame)
	err = nil
}

// outcome is the error of a run whose own goroutine has ended.
func (r *Run) outcome(err error) error {
	var failed *Failure
	if errors.As(err, &failed) && failed.Value == any(goexit{}) {
		err = ErrGoexit
	}
	if err == ErrGoexit && !r.othersEnd() {
		err = ErrInterrupted
	}
	if r.full.Load() && errors.Is(err, ErrInterrupted) {
		return errFull()
	}
	if failed := r.ends.Load(); failed != nil && errors.Is(err, ErrInterrupted) {
		return failed
	}
	return err
}

// othersEnd waits for the goroutines of the run, as a program does whose main function has left by
// runtime.Goexit; false if the run was stopped.
func (r *Run) othersEnd() bool {
	for r.live.Load() > 0 {
		select {
		case <-r.wake:
			return false
		case <-time.After(time.Millisecond):
		}
	}
	return !r.stopped.Load()
}

// Redefine makes callers of an earlier function call the later one. The signatures are identical.
func (m *Machine) Redefine(earlier, later *ssa.Function) {
	from, to := m.function(earlier), m.function(later)
	to.ensure()
	from.redirect.Store(to)
}

// Value reads a session variable: a value as compiled code sees it, or a box for types that only
// the session knows.
func (m *Machine) Value(v *ssa.Global) any {
	t := v.Type().(*types.Pointer).Elem()
	return m.locked(func() any { return m.intoInterface(t)(m.global(v)) })
}

func (m *Machine) locked(f func() any) any {
	m.compiling.Lock()
	defer m.compiling.Unlock()
	return f()
}

// Int reads a session variable of type int.
func (m *Machine) Int(v *ssa.Global) int {
	return *(*int)(m.locked(func() any { return m.global(v) }).(pointer))
}

func (m *Machine) function(f *ssa.Function) *function {
	if fn, ok := m.functions.Load(f); ok {
		return fn.(*function)
	}
	fn, _ := m.functions.LoadOrStore(f, &function{machine: m, source: f, id: int(m.nextID.Add(1))})
	return fn.(*function)
}

// Share lets a variable have the memory of an earlier one of the identical type.
func (m *Machine) Share(v, earlier *ssa.Global) {
	p := m.locked(func() any { return m.global(earlier) }).(pointer)
	m.globals.Store(v, p)
}
