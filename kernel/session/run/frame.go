package run

import (
	"reflect"
	"sync"
	"sync/atomic"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// op is one step of a compiled function.
type op func(fp pointer)

// header stands at the start of every frame.
type header struct {
	g      *routine
	fn     *function
	parent pointer // the caller's frame
	next   pointer // in the list of free frames
	defers *deferStack
	owner  pointer // of a deferred call: the frame whose defer it is, for recover
	pos    int64   // token.Pos of the latest step that may fail
}

func head(fp pointer) *header { return (*header)(fp) }

// function is an ssa.Function, compiled on first use.
type function struct {
	machine  *Machine
	source   *ssa.Function
	name     string // as a trace shows it
	id       int
	ready    atomic.Bool
	redirect atomic.Pointer[function] // a later definition of the same name

	blocks    []*block
	entry     *block // the first of them
	recovered *block // where a recovered panic goes on
	frame     reflect.Type
	constants []constantSlot
	params    []slot
	captured  []capture
	results   []result
	hasDefer  bool
	synthetic bool     // no function of the cell's text
	plain     *closure // the function as a value
	makePlain sync.Once
}

type slot struct {
	offset uintptr
	layout reflect.Type
	move   mover
}

type result struct {
	slot
	class class
}

type constantSlot struct {
	slot
	value pointer
}

type capture struct {
	slot
	pointer bool // one pointer word: kept in closure.words
	index   int
}

// freeLists is how many functions a goroutine keeps free frames for.
const freeLists = 1 << 8 // an id modulo this is its lowest byte

// routine is what a goroutine carries: its frames and its run.
type routine struct {
	run     *Run
	top     pointer
	depth   int
	entered bool   // for calls that come from compiled code
	trace   []Call // of the panic under way
	sites   []site // the same, for package runtime
	free    [freeLists]struct {
		fn    *function
		frame pointer
	}
	scratch [32]pointer // arguments and results of one call into compiled code
}

func newRoutine(run *Run) *routine { return &routine{run: run} }

func (f *function) ensure() {
	if !f.ready.Load() {
		f.machine.compiling.Lock()
		defer f.machine.compiling.Unlock()
		if !f.ready.Load() {
			f.compile()
			f.ready.Store(true)
		}
	}
}

// get takes a free frame or makes one; constants are in place.
func (f *function) get(g *routine) pointer {
	if !f.ready.Load() {
		f.ensure()
	}
	list := &g.free[uint8(f.id)]
	if list.fn == f && list.frame != nil {
		frame := list.frame
		list.frame = head(frame).next
		return frame
	}
	frame := reflect.New(f.frame).UnsafePointer()
	h := head(frame)
	h.g, h.fn = g, f
	for i := range f.constants {
		c := &f.constants[i]
		c.move(unsafe.Add(frame, c.offset), c.value)
	}
	return frame
}

func (f *function) put(g *routine, frame pointer) {
	list := &g.free[uint8(f.id)]
	if list.fn != f {
		list.fn, list.frame = f, nil
	}
	head(frame).next = list.frame
	list.frame = frame
}

// current follows redefinitions.
func (f *function) current() *function {
	for to := f.redirect.Load(); to != nil; to = f.redirect.Load() {
		f = to
	}
	return f
}

// region collects the slots of a frame (or of captured values) by the shape of their memory, so that
// functions of like size share one frame type; reflect keeps such types for ever.
type region struct {
	pointers, strings, interfaces, slices, words int
	others                                       []reflect.Type
	offsets                                      [6]uintptr
	otherOffsets                                 []uintptr
	layout                                       reflect.Type
}

type place struct{ group, index int }

func (r *region) reserve(t reflect.Type) place {
	add := func(group int, n *int) place {
		*n++
		return place{group, *n - 1}
	}
	switch classOf(t) {
	case classPointer:
		return add(0, &r.pointers)
	case classString:
		return add(1, &r.strings)
	case classInterface:
		return add(2, &r.interfaces)
	case classSlice:
		return add(3, &r.slices)
	case classNone, class1, class2, class4, class8:
		return add(4, &r.words)
	}
	r.others = append(r.others, t)
	return place{5, len(r.others) - 1}
}

func (r *region) seal() {
	round := func(n, to int) int { return (n + to - 1) / to * to }
	fields := []reflect.StructField{{Name: "H", Type: reflect.TypeFor[header]()}}
	add := func(name string, n int, t reflect.Type) {
		fields = append(fields, reflect.StructField{Name: name, Type: reflect.ArrayOf(n, t)})
	}
	add("P", round(r.pointers, 4), pointerType)
	add("S", round(r.strings, 2), reflect.TypeFor[string]())
	add("I", round(r.interfaces, 2), anyType)
	add("L", round(r.slices, 2), sliceShape)
	add("W", round(r.words, 4), reflect.TypeFor[uint64]())
	for i, t := range r.others {
		fields = append(fields, reflect.StructField{Name: "O" + string(rune('a'+i%26)) + itoa(i), Type: t})
	}
	r.layout = reflect.StructOf(fields)
	for i := range 5 {
		r.offsets[i] = r.layout.Field(i + 1).Offset
	}
	for i := range r.others {
		r.otherOffsets = append(r.otherOffsets, r.layout.Field(6+i).Offset)
	}
}

var groupSizes = [5]uintptr{word, 2 * word, 2 * word, 3 * word, 8}

func (r *region) offset(p place) uintptr {
	if p.group == 5 {
		return r.otherOffsets[p.index]
	}
	return r.offsets[p.group] + uintptr(p.index)*groupSizes[p.group]
}
