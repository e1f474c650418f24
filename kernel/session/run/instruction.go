package run

import (
	"fmt"
	"go/token"
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// instruction compiles one step that is neither a jump nor fused with its neighbour.
func (c *compiler) instruction(in ssa.Instruction) op {
	var d uintptr
	if v, ok := in.(ssa.Value); ok {
		d = c.offset(v)
	}
	switch in := in.(type) {
	case *ssa.BinOp:
		return c.binaryOperator(in, d)
	case *ssa.UnOp:
		return c.unaryOperator(in, d)
	case *ssa.Alloc:
		return c.alloc(in, d)
	case *ssa.Store:
		return c.store(in)
	case *ssa.FieldAddr:
		return c.fieldAddress(in, d)
	case *ssa.Field:
		return c.field(in, d)
	case *ssa.IndexAddr:
		return c.indexAddress(in, d)
	case *ssa.Index:
		return c.index(in, d)
	case *ssa.Lookup:
		return c.lookup(in, d)
	case *ssa.MapUpdate:
		return c.mapUpdate(in)
	case *ssa.Extract:
		return moveOp(c.layout(in.Type()), d, c.tuple(in.Tuple)[in.Index])
	case *ssa.MakeInterface:
		return c.makeInterface(in, d)
	case *ssa.ChangeInterface:
		return c.interfaceToInterface(in.X.Type(), in.Type(), d, c.offset(in.X))
	case *ssa.ChangeType:
		return c.changeType(in, d)
	case *ssa.Convert:
		return positioned(c.convert(in, d), in.Pos())
	case *ssa.SliceToArrayPointer:
		return c.sliceToArrayPointer(in, d)
	case *ssa.TypeAssert:
		return c.assert(in, d)
	case *ssa.Slice:
		return c.slice(in, d)
	case *ssa.MakeSlice:
		return c.makeSlice(in, d)
	case *ssa.MakeMap:
		t := c.mapLayout(in.Type())
		if holdsQuantity(t.Key()) { // of a generic function: others were refused before
			refuse(in.Pos(), insteadOfQuantityKey, "%s", quantityKey)
		}
		return func(fp pointer) { *at[pointer](fp, d) = reflect.MakeMap(t).UnsafePointer() }
	case *ssa.MakeChan:
		return c.makeChan(in, d)
	case *ssa.MakeClosure:
		return c.makeClosure(in, d)
	case *ssa.Range:
		return c.rangeStart(in, d)
	case *ssa.Next:
		return c.rangeNext(in)
	case *ssa.Send:
		return c.send(in)
	case *ssa.Select:
		return c.selects(in)
	case *ssa.Go:
		return c.goStatement(in)
	case *ssa.Defer:
		return c.deferStatement(in)
	case *ssa.RunDefers:
		return func(fp pointer) {
			for d := head(fp).defers; len(d.calls) > 0; {
				d.pop()()
			}
		}
	case *ssa.Call:
		return c.call(in, d)
	}
	refuse(in.Pos(), "", "%s", fmt.Sprintf("the engine does not know the step %T", in))
	return nil
}

// positioned notes the place before a step that may fail.
func positioned(o op, p token.Pos) op {
	if o == nil {
		return nil
	}
	pos := int64(p)
	return func(fp pointer) { head(fp).pos = pos; o(fp) }
}

func (c *compiler) binaryOperator(in *ssa.BinOp, d uintptr) op {
	if isComparison(in.Op) {
		p := c.comparison(in)
		return func(fp pointer) { *at[bool](fp, d) = p(fp) }
	}
	t := c.layout(in.X.Type())
	a, b := c.offset(in.X), c.offset(in.Y)
	if in.Op == token.SHL || in.Op == token.SHR {
		return positioned(shift(t, c.layout(in.Y.Type()), in.Op == token.SHL, d, a, b), in.Pos())
	}
	o := binary(t, in.Op, d, a, b)
	if o == nil {
		refuse(in.Pos(), "", "operator %s is not defined on %s", in.Op, typeName(in.X.Type()))
	}
	if in.Op == token.QUO || in.Op == token.REM || t == quantityType {
		return positioned(o, in.Pos())
	}
	return o
}

func (c *compiler) comparison(in *ssa.BinOp) predicate {
	pos := int64(in.Pos())
	x, y := in.X.Type(), in.Y.Type()
	a, b := c.offset(in.X), c.offset(in.Y)
	if types.IsInterface(x) && types.IsInterface(y) {
		left, right := c.loadInterface(x), c.loadInterface(y)
		return negated(in.Op, func(fp pointer) bool {
			head(fp).pos = pos
			return equalInterfaces(left(unsafe.Add(fp, a)), right(unsafe.Add(fp, b)))
		})
	}
	p := c.compare(x, in.Op, a, b)
	if l := c.layout(x); l.Kind() == reflect.Struct || l.Kind() == reflect.Array {
		return func(fp pointer) bool { head(fp).pos = pos; return p(fp) }
	}
	return p
}

func (c *compiler) unaryOperator(in *ssa.UnOp, d uintptr) op {
	a := c.offset(in.X)
	t := c.layout(in.X.Type())
	switch in.Op {
	case token.MUL:
		return c.load(in, d, a)
	case token.NOT:
		return func(fp pointer) { *at[bool](fp, d) = !*at[bool](fp, a) }
	case token.SUB:
		if o := negate(t, d, a); o != nil {
			return positioned(o, in.Pos())
		}
	case token.XOR:
		load := loadInt(t, a)
		return storeInt(t, d, func(fp pointer) int64 { return ^load(fp) })
	case token.ARROW:
		return c.receive(in, d, a)
	}
	refuse(in.Pos(), "", "operator %s is not defined on %s", in.Op, typeName(in.X.Type()))
	return nil
}

// returns moves the results to where the caller takes them.
func (c *compiler) returns(k *block, in *ssa.Return) {
	for i, r := range in.Results {
		f := c.fn.results[i]
		k.ops = appendOp(k.ops, moveOp(f.layout, f.offset, c.offset(r)))
	}
}
