package run

import (
	"go/ast"
	"go/token"
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

func nilDereference() {
	var p *int
	_ = *p
}

// global gives the address of a package-level variable.
func (m *Machine) global(v *ssa.Global) pointer {
	if p, ok := m.globals.Load(v); ok {
		return p.(pointer)
	}
	var p pointer
	if v.Pkg != nil && !m.FromSource(v.Pkg.Pkg) {
		variable, ok := symbols.Lookup(v.Pkg.Pkg.Path(), v.Name())
		if !ok || !variable.CanAddr() {
			refuse(token.NoPos, "", "variable %s.%s is not available in cells", v.Pkg.Pkg.Name(), v.Name())
		}
		p = variable.Addr().UnsafePointer()
	} else {
		l := m.layout(v.Type().(*types.Pointer).Elem())
		m.roomFor(l, v.Pos())
		p = reflect.New(l).UnsafePointer()
	}
	kept, _ := m.globals.LoadOrStore(v, p)
	return kept.(pointer)
}

func (c *compiler) load(in *ssa.UnOp, d, a uintptr) op {
	pos := int64(in.Pos())
	if t, ok := c.native[in.X]; ok {
		return c.loadNativeFunction(t, d, a, pos)
	}
	t := c.layout(in.Type())
	if t.Kind() == reflect.Array && len(*in.Referrers()) == 0 && c.onlyCounted(in.Pos()) {
		return nil
	}
	switch classOf(t) {
	case class1:
		return func(fp pointer) { head(fp).pos = pos; *at[uint8](fp, d) = *(*uint8)(*at[pointer](fp, a)) }
	case class4:
		return func(fp pointer) { head(fp).pos = pos; *at[uint32](fp, d) = *(*uint32)(*at[pointer](fp, a)) }
	case class8:
		return func(fp pointer) { head(fp).pos = pos; *at[uint64](fp, d) = *(*uint64)(*at[pointer](fp, a)) }
	case classPointer:
		return func(fp pointer) { head(fp).pos = pos; *at[pointer](fp, d) = *(*pointer)(*at[pointer](fp, a)) }
	case classString:
		return func(fp pointer) { head(fp).pos = pos; *at[string](fp, d) = *(*string)(*at[pointer](fp, a)) }
	case classSlice:
		return func(fp pointer) { head(fp).pos = pos; *at[[]pointer](fp, d) = *(*[]pointer)(*at[pointer](fp, a)) }
	}
	move := moverOf(t)
	return func(fp pointer) {
		head(fp).pos = pos
		p := *at[pointer](fp, a)
		if p == nil {
			nilDereference()
		}
		move(unsafe.Add(fp, d), p)
	}
}

// onlyCounted reports whether the array loaded at a place is the operand of a range statement that
// asks for no more than its length: Go does not load it then, so that its pointer may be nil.
func (c *compiler) onlyCounted(at token.Pos) bool {
	found := false
	if c.fn.source.Syntax() == nil {
		return false
	}
	ast.Inspect(c.fn.source.Syntax(), func(n ast.Node) bool {
		r, ok := n.(*ast.RangeStmt)
		if !ok || r.Value != nil || ast.Unparen(r.X).Pos() != at {
			return !found
		}
		found = true
		ast.Inspect(r.X, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr: // what it calls must be called, and then the array is loaded
				found = false
			case *ast.UnaryExpr:
				found = found && n.Op != token.ARROW
			}
			return found
		})
		return false
	})
	return found
}

func (c *compiler) store(in *ssa.Store) op {
	pos := int64(in.Pos())
	a, v := c.offset(in.Addr), c.offset(in.Val)
	if t, ok := c.native[in.Addr]; ok {
		return c.storeNativeFunction(t, in.Val.Type(), a, v, pos)
	}
	t := c.layout(in.Val.Type())
	switch classOf(t) {
	case class8:
		return func(fp pointer) { head(fp).pos = pos; *(*uint64)(*at[pointer](fp, a)) = *at[uint64](fp, v) }
	case classPointer:
		return func(fp pointer) { head(fp).pos = pos; *(*pointer)(*at[pointer](fp, a)) = *at[pointer](fp, v) }
	case classString:
		return func(fp pointer) { head(fp).pos = pos; *(*string)(*at[pointer](fp, a)) = *at[string](fp, v) }
	}
	move := moverOf(t)
	return func(fp pointer) {
		head(fp).pos = pos
		p := *at[pointer](fp, a)
		if p == nil {
			nilDereference()
		}
		move(p, unsafe.Add(fp, v))
	}
}

// functionsIn notes that an address leads to a function in memory of a compiled type, where it must
// be a function of compiled code. Only loads and stores may use such an address.
func (c *compiler) functionsIn(address ssa.Value, field reflect.Type) {
	if field.Kind() != reflect.Func {
		return
	}
	for _, user := range *address.Referrers() {
		switch user := user.(type) {
		case *ssa.UnOp, *ssa.DebugRef:
		case *ssa.Store:
			if user.Addr != address {
				c.refuseAddress(address.Pos())
			}
		default:
			c.refuseAddress(address.Pos())
		}
	}
	c.native[address] = field
}

// functionVariable does the same for a variable of a compiled package that holds a function; user is
// one of the steps that have its address among their operands.
func (c *compiler) functionVariable(v *ssa.Global, user ssa.Instruction) {
	if _, ok := v.Type().(*types.Pointer).Elem().Underlying().(*types.Signature); !ok || v.Pkg == nil || c.FromSource(v.Pkg.Pkg) {
		return
	}
	variable, ok := symbols.Lookup(v.Pkg.Pkg.Path(), v.Name())
	if !ok {
		return // which is refused where it gets its place
	}
	store, stores := user.(*ssa.Store)
	load, loads := user.(*ssa.UnOp)
	if !(stores && store.Addr == v && store.Val != v || loads && load.Op == token.MUL) {
		c.refuseAddress(user.Pos())
	}
	c.native[v] = variable.Type()
}

func (c *compiler) refuseAddress(pos token.Pos) {
	refuse(pos, "assign to it or call it directly", "the address of a function variable of a compiled package cannot be passed on")
}

func (c *compiler) loadNativeFunction(t reflect.Type, d, a uintptr, pos int64) op {
	return func(fp pointer) {
		head(fp).pos = pos
		p := *at[pointer](fp, a)
		if p == nil {
			nilDereference()
		}
		*at[*closure](fp, d) = c.foreign(reflect.NewAt(t, p).Elem())
	}
}

func (c *compiler) storeNativeFunction(native reflect.Type, t types.Type, a, v uintptr, pos int64) op {
	cross := c.functionCrossing(t, native)
	return func(fp pointer) {
		head(fp).pos = pos
		p := *at[pointer](fp, a)
		if p == nil {
			nilDereference()
		}
		cross.leave(p, unsafe.Add(fp, v))
	}
}

func (c *compiler) alloc(in *ssa.Alloc, d uintptr) op {
	t := c.layout(in.Type().(*types.Pointer).Elem())
	if !in.Heap {
		o, zero := c.region.offset(c.locals[in]), zeroOf(t)
		return func(fp pointer) {
			p := unsafe.Add(fp, o)
			zero(p)
			*at[pointer](fp, d) = p
		}
	}
	allocate := newOf(t)
	if pos, size := int64(in.Pos()), int(t.Size()); size >= large {
		return func(fp pointer) { head(fp).pos = pos; room(1, size); *at[pointer](fp, d) = allocate() }
	}
	return func(fp pointer) { *at[pointer](fp, d) = allocate() }
}

func (c *compiler) fieldAddress(in *ssa.FieldAddr, d uintptr) op {
	a, pos := c.offset(in.X), int64(in.Pos())
	field := c.layout(in.X.Type().Underlying().(*types.Pointer).Elem()).Field(in.Field)
	c.functionsIn(in, field.Type)
	offset := field.Offset
	return func(fp pointer) {
		p := *at[pointer](fp, a)
		if p == nil {
			head(fp).pos = pos
			nilDereference()
		}
		*at[pointer](fp, d) = unsafe.Add(p, offset)
	}
}

func (c *compiler) field(in *ssa.Field, d uintptr) op {
	f := c.layout(in.X.Type()).Field(in.Field)
	from := c.offset(in.X) + f.Offset
	if f.Type.Kind() == reflect.Func {
		return func(fp pointer) {
			*at[*closure](fp, d) = c.foreign(reflect.NewAt(f.Type, unsafe.Add(fp, from)).Elem())
		}
	}
	return moveOp(c.layout(in.Type()), d, from)
}

func (c *compiler) indexAddress(in *ssa.IndexAddr, d uintptr) op {
	a, pos := c.offset(in.X), int64(in.Pos())
	operand := c.bound(in.Index)
	index := operand.load
	if p, ok := in.X.Type().Underlying().(*types.Pointer); ok {
		array := c.layout(p.Elem())
		n, size := array.Len(), array.Elem().Size()
		return func(fp pointer) {
			head(fp).pos = pos
			p := *at[pointer](fp, a)
			if p == nil {
				nilDereference()
			}
			i := int(index(fp))
			if uint(i) >= uint(n) {
				operand.outOfRange(i, n)
			}
			*at[pointer](fp, d) = unsafe.Add(p, uintptr(i)*size)
		}
	}
	size := c.element(in.X.Type()).Size()
	return func(fp pointer) {
		s := *at[[]byte](fp, a)
		i := int(index(fp))
		if uint(i) >= uint(len(s)) {
			head(fp).pos = pos
			operand.outOfRange(i, len(s))
		}
		*at[pointer](fp, d) = unsafe.Add(pointer(unsafe.SliceData(s)), uintptr(i)*size)
	}
}

func (c *compiler) index(in *ssa.Index, d uintptr) op {
	a, pos := c.offset(in.X), int64(in.Pos())
	operand := c.bound(in.Index)
	index := operand.load
	t := c.layout(in.X.Type())
	if t.Kind() == reflect.String {
		return func(fp pointer) {
			s, i := *at[string](fp, a), int(index(fp))
			if uint(i) >= uint(len(s)) {
				head(fp).pos = pos
				operand.outOfRange(i, len(s))
			}
			*at[byte](fp, d) = s[i]
		}
	}
	n, size, move := t.Len(), t.Elem().Size(), moverOf(t.Elem())
	return func(fp pointer) {
		i := int(index(fp))
		if uint(i) >= uint(n) {
			head(fp).pos = pos
			operand.outOfRange(i, n)
		}
		move(unsafe.Add(fp, d), unsafe.Add(fp, a+uintptr(i)*size))
	}
}

// fusedLoad compiles an address and the load that follows it as one step.
func (c *compiler) fusedLoad(in, next ssa.Instruction) op {
	v, ok := in.(ssa.Value)
	if !ok || v.Referrers() == nil || len(*v.Referrers()) != 1 {
		return nil
	}
	load, ok := next.(*ssa.UnOp)
	if !ok || load.Op != token.MUL || load.X != v {
		return nil
	}
	switch v := v.(type) {
	case *ssa.FieldAddr:
		return c.fieldLoad(v, load)
	case *ssa.IndexAddr:
		return c.elementLoad(v, load)
	}
	return nil
}

func (c *compiler) fieldLoad(v *ssa.FieldAddr, load *ssa.UnOp) op {
	field := c.layout(v.X.Type().Underlying().(*types.Pointer).Elem()).Field(v.Field)
	a, d, offset, pos := c.offset(v.X), c.offset(load), field.Offset, int64(v.Pos())
	if field.Type.Kind() == reflect.Func {
		return nil
	}
	switch classOf(c.layout(load.Type())) {
	case class8:
		return func(fp pointer) {
			p := *at[pointer](fp, a)
			if p == nil {
				head(fp).pos = pos
				nilDereference()
			}
			*at[uint64](fp, d) = *at[uint64](p, offset)
		}
	case classPointer:
		return func(fp pointer) {
			p := *at[pointer](fp, a)
			if p == nil {
				head(fp).pos = pos
				nilDereference()
			}
			*at[pointer](fp, d) = *at[pointer](p, offset)
		}
	}
	return nil
}

func (c *compiler) elementLoad(v *ssa.IndexAddr, load *ssa.UnOp) op {
	if _, ok := v.X.Type().Underlying().(*types.Slice); !ok || c.layout(v.Index.Type()).Kind() != reflect.Int {
		return nil
	}
	a, index, d, pos := c.offset(v.X), c.offset(v.Index), c.offset(load), int64(v.Pos())
	switch classOf(c.layout(load.Type())) {
	case class8:
		return elementLoadOf[uint64](a, index, d, pos)
	case class1:
		return elementLoadOf[uint8](a, index, d, pos)
	case classPointer:
		return elementLoadOf[pointer](a, index, d, pos)
	case classString:
		return elementLoadOf[string](a, index, d, pos)
	case classSlice:
		return elementLoadOf[[]pointer](a, index, d, pos)
	}
	return nil
}

func elementLoadOf[T any](a, index, d uintptr, pos int64) op {
	return func(fp pointer) {
		s := *at[[]T](fp, a)
		i := *at[int](fp, index)
		if uint(i) >= uint(len(s)) {
			head(fp).pos = pos
			bound{}.outOfRange(i, len(s))
		}
		*at[T](fp, d) = s[i]
	}
}
