package run

import (
	"go/constant"
	"go/token"
	"go/types"
	"reflect"
	"strconv"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

func itoa(i int) string { return strconv.Itoa(i) }

// compiler turns one ssa.Function into blocks of steps. First every value gets its place in the
// frame, then the frame is laid out, then the steps are made.
type compiler struct {
	*Machine
	fn     *function
	region region
	places map[ssa.Value]place
	tuples map[ssa.Value][]place
	locals map[*ssa.Alloc]place
	swaps  map[*ssa.Phi]place // a phi's value on its way, where phis of a block feed each other
	consts []pendingConstant

	resultPlaces []place
	unwanted     map[*ssa.CallCommon][]place // results of calls under go and defer

	blocks map[*ssa.BasicBlock]*block
	fused  map[ssa.Value]bool         // comparisons done by the branch that follows
	latest token.Pos                  // of the steps so far of a block
	native map[ssa.Value]reflect.Type // addresses of functions in memory of compiled types
	shared map[ssa.Value]*ssa.Phi     // values that lie where the phi they feed lies
}

type pendingConstant struct {
	place
	layout reflect.Type
	value  pointer
}

func (c *compiler) offset(v ssa.Value) uintptr { return c.region.offset(c.places[v]) }

func (c *compiler) tuple(v ssa.Value) []uintptr {
	list := c.tuples[v]
	out := make([]uintptr, len(list))
	for i, p := range list {
		out[i] = c.region.offset(p)
	}
	return out
}

func (f *function) compile() {
	source := f.source
	f.name, f.synthetic = functionName(source), source.Synthetic != ""
	if source.Blocks == nil {
		refuse(source.Pos(), "", "function %s has no body that can run in a cell", source.RelString(nil))
	}
	c := &compiler{Machine: f.machine, fn: f, places: map[ssa.Value]place{}, tuples: map[ssa.Value][]place{},
		locals: map[*ssa.Alloc]place{}, swaps: map[*ssa.Phi]place{}, blocks: map[*ssa.BasicBlock]*block{},
		unwanted: map[*ssa.CallCommon][]place{}, fused: map[ssa.Value]bool{}, native: map[ssa.Value]reflect.Type{}, shared: coalesce(source)}
	defer c.placeRefusal()
	c.reserveAll(source)
	c.region.seal()
	f.frame = c.region.layout
	c.roomFor(f.frame, source.Pos())
	c.describe(source)
	for _, b := range c.allBlocks(source) {
		c.blocks[b] = &block{}
	}
	for _, b := range c.allBlocks(source) {
		c.block(b)
	}
	for _, b := range source.Blocks {
		f.blocks = append(f.blocks, c.blocks[b])
	}
	f.entry = f.blocks[0]
	f.thread()
	if source.Recover != nil {
		f.recovered = c.blocks[source.Recover]
		f.hasDefer = true
	}
}

// placeRefusal gives a refusal that has no place that of the step it was met at.
func (c *compiler) placeRefusal() {
	r := recover()
	if r == nil {
		return
	}
	if refused, ok := r.(*Refused); ok && refused.Pos == token.NoPos {
		if refused.Pos = c.latest; refused.Pos == token.NoPos {
			refused.Pos = c.fn.source.Pos()
		}
	}
	panic(r)
}

func (c *compiler) allBlocks(source *ssa.Function) []*ssa.BasicBlock {
	list := source.Blocks
	if r := source.Recover; r != nil {
		for _, b := range list {
			if b == r {
				return list
			}
		}
		list = append(list[:len(list):len(list)], r)
	}
	return list
}

// ---- places

func (c *compiler) reserveAll(source *ssa.Function) {
	for _, p := range source.Params {
		c.reserve(p)
	}
	for _, v := range source.FreeVars {
		c.reserve(v)
	}
	var operands []*ssa.Value
	for _, b := range c.allBlocks(source) {
		phis := 0
		for _, in := range b.Instrs {
			if v, ok := in.(ssa.Value); ok {
				c.reserve(v)
			}
			if p, ok := in.(*ssa.Phi); ok {
				if phis++; phis > 1 {
					c.swaps[p] = c.region.reserve(c.layout(p.Type()))
				}
			}
			if a, ok := in.(*ssa.Alloc); ok && !a.Heap {
				c.locals[a] = c.region.reserve(c.layout(a.Type().(*types.Pointer).Elem()))
			}
			if in.Pos().IsValid() {
				c.latest = in.Pos() // of a refusal
			}
			switch in := in.(type) {
			case *ssa.Go:
				c.reserveUnwanted(&in.Call)
			case *ssa.Defer:
				c.reserveUnwanted(&in.Call)
			}
			operands = in.Operands(operands[:0])
			for _, o := range operands {
				if v, ok := (*o).(*ssa.Global); ok {
					c.functionVariable(v, in)
				}
				if *o != nil {
					c.reserve(*o)
				}
			}
		}
	}
	results := source.Signature.Results()
	for i := range results.Len() {
		l := c.layout(results.At(i).Type())
		c.fn.results = append(c.fn.results, result{slot{layout: l, move: moverOf(l)}, classOf(l)})
		c.resultPlaces = append(c.resultPlaces, c.region.reserve(l))
	}
}

func (c *compiler) reserve(v ssa.Value) {
	if _, ok := c.places[v]; ok {
		return
	}
	if phi, ok := c.shared[v]; ok {
		c.reserve(phi)
		c.places[v] = c.places[phi]
		return
	}
	fixed := func(l reflect.Type, value pointer) {
		p := c.region.reserve(l)
		c.places[v] = p
		c.consts = append(c.consts, pendingConstant{p, l, value})
	}
	switch v := v.(type) {
	case *ssa.Const:
		l := c.layout(v.Type())
		if v.Value == nil {
			c.places[v] = c.region.reserve(l)
			return
		}
		x := reflect.New(l)
		setConstant(x.Elem(), v)
		fixed(l, x.UnsafePointer())
	case *ssa.Global:
		x := new(pointer)
		*x = c.global(v)
		fixed(pointerType, pointer(x))
	case *ssa.Function:
		x := new(*closure)
		*x = c.functionValue(v)
		fixed(closureType, pointer(x))
	case *ssa.Builtin:
	default:
		if t, ok := v.Type().(*types.Tuple); ok {
			c.reserveTuple(v, t)
			return
		}
		c.places[v] = c.region.reserve(c.layout(v.Type()))
	}
}

func (c *compiler) reserveTuple(v ssa.Value, t *types.Tuple) {
	c.places[v] = place{4, 0}
	list := make([]place, t.Len())
	for i := range list {
		list[i] = c.region.reserve(c.layout(t.At(i).Type()))
	}
	c.tuples[v] = list
}

// describe records where parameters, captured values, constants and results lie.
func (c *compiler) describe(source *ssa.Function) {
	f := c.fn
	for _, p := range source.Params {
		l := c.layout(p.Type())
		f.params = append(f.params, slot{c.offset(p), l, moverOf(l)})
	}
	words, others := 0, 0
	for _, v := range source.FreeVars {
		l := c.layout(v.Type())
		k := capture{slot: slot{c.offset(v), l, moverOf(l)}, pointer: classOf(l) == classPointer}
		if k.pointer {
			k.index, words = words, words+1
		} else {
			k.index, others = others, others+1
		}
		f.captured = append(f.captured, k)
	}
	for _, k := range c.consts {
		f.constants = append(f.constants, constantSlot{slot{c.region.offset(k.place), k.layout, moverOf(k.layout)}, k.value})
	}
	for _, b := range c.allBlocks(source) {
		for _, in := range b.Instrs {
			switch in := in.(type) {
			case *ssa.Defer, *ssa.RunDefers:
				f.hasDefer = true
			case *ssa.Call:
				if b, ok := in.Call.Value.(*ssa.Builtin); ok && b.Name() == "ssa:deferstack" {
					f.hasDefer = true
				}
			}
		}
	}
	c.placeResults()
}

func setConstant(x reflect.Value, k *ssa.Const) {
	switch kind := x.Kind(); {
	case x.Type() == quantityType:
		// Nought is the quantity that any other can be added to.
		if f := k.Float64(); f != 0 {
			x.Set(reflect.ValueOf(quantity.Number(f)))
		}
	case kind == reflect.Bool:
		x.SetBool(constant.BoolVal(k.Value))
	case kind == reflect.String:
		if k.Value.Kind() == constant.String {
			x.SetString(constant.StringVal(k.Value))
		} else {
			i, _ := constant.Int64Val(k.Value)
			x.SetString(runeText(i))
		}
	case isSigned(kind):
		x.SetInt(k.Int64())
	case isInteger(kind):
		x.SetUint(k.Uint64())
	case isFloat(kind):
		x.SetFloat(k.Float64())
	case isComplex(kind):
		x.SetComplex(k.Complex128())
	default:
		refuse(token.NoPos, "", "a constant of type %s is not possible in a cell", k.Type())
	}
}

// ---- blocks

// edge lists the moves from one block to the phis of the next; n tells parallel edges apart.
func (c *compiler) edge(from, to *ssa.BasicBlock, n int) (moves []op, back bool) {
	index := -1
	for i, p := range to.Preds {
		if p == from {
			if n == 0 {
				index = i
				break
			}
			n--
		}
	}
	type phiMove struct {
		phi      *ssa.Phi
		to, from uintptr
		layout   reflect.Type
	}
	var list []phiMove
	written := map[uintptr]bool{}
	conflict := false
	for _, in := range to.Instrs {
		phi, ok := in.(*ssa.Phi)
		if !ok {
			break
		}
		m := phiMove{phi, c.offset(phi), c.offset(phi.Edges[index]), c.layout(phi.Type())}
		if m.to != m.from {
			conflict = conflict || written[m.from]
			written[m.to] = true
			list = append(list, m)
		}
	}
	var second []op
	for _, m := range list {
		if swap, ok := c.swaps[m.phi]; ok && conflict {
			temp := c.region.offset(swap)
			moves = appendOp(moves, moveOp(m.layout, temp, m.from))
			second = appendOp(second, moveOp(m.layout, m.to, temp))
			continue
		}
		if conflict { // the first phi of the block: nothing before it was written
			second = appendOp(second, moveOp(m.layout, m.to, m.from))
			continue
		}
		moves = appendOp(moves, moveOp(m.layout, m.to, m.from))
	}
	return append(moves, second...), to.Index <= from.Index
}

func appendOp(list []op, o op) []op {
	if o == nil {
		return list
	}
	return append(list, o)
}

func (c *compiler) block(b *ssa.BasicBlock) {
	k := c.blocks[b]
	unneeded := c.leaveOut(b)
	for i := 0; i < len(b.Instrs); i++ {
		in := b.Instrs[i]
		var next ssa.Instruction
		if i+1 < len(b.Instrs) {
			next = b.Instrs[i+1]
		}
		if in.Pos().IsValid() {
			c.latest = in.Pos()
		}
		if unneeded[in] {
			continue
		}
		switch in := in.(type) {
		case *ssa.Phi, *ssa.DebugRef:
		case *ssa.Jump:
			k.kind = jump
			c.way(k, b, 0, 0)
		case *ssa.If:
			c.branch(k, b, in)
		case *ssa.Return:
			k.kind = leave
			c.returns(k, in)
		case *ssa.Panic:
			k.kind = leave
			k.ops = append(k.ops, c.panics(in))
		default:
			if c.fusesWithBranch(in, next) {
				continue
			}
			if o := c.fusedLoad(in, next); o != nil {
				k.ops = append(k.ops, o)
				i++
				continue
			}
			k.ops = appendOp(k.ops, c.instruction(in))
		}
	}
}

func (c *compiler) way(k *block, b *ssa.BasicBlock, which, n int) {
	to := b.Succs[which]
	k.to[which] = c.blocks[to]
	k.moves[which], k.back[which] = c.edge(b, to, n)
}

func (c *compiler) branch(k *block, b *ssa.BasicBlock, in *ssa.If) {
	k.kind = branch
	c.way(k, b, 0, 0)
	n := 0
	if b.Succs[0] == b.Succs[1] {
		n = 1
	}
	c.way(k, b, 1, n)
	if cmp, ok := in.Cond.(*ssa.BinOp); ok && c.fused[cmp] {
		k.condition = c.comparison(cmp)
		return
	}
	o := c.offset(in.Cond)
	k.condition = func(fp pointer) bool { return *at[bool](fp, o) }
}

func (c *compiler) fusesWithBranch(in, next ssa.Instruction) bool {
	cmp, ok := in.(*ssa.BinOp)
	if !ok || !isComparison(cmp.Op) {
		return false
	}
	branch, ok := next.(*ssa.If)
	if !ok || branch.Cond != cmp || len(*cmp.Referrers()) != 1 {
		return false
	}
	c.fused[cmp] = true
	return true
}

func (c *compiler) panics(in *ssa.Panic) op { return c.panicOf(in.X, int64(in.Pos())) }

func (c *compiler) panicOf(x ssa.Value, pos int64) op {
	load, a := c.loadInterface(x.Type()), c.offset(x)
	return func(fp pointer) {
		head(fp).pos = pos
		v := load(pointer(at[byte](fp, a)))
		if b, ok := v.(box); ok {
			if e := b.asError(); e != nil {
				v = e // so that compiled code that recovers sees an error
			}
		}
		panic(v)
	}
}

// placeResults gives the results of the function their places; they were reserved before sealing.
func (c *compiler) placeResults() {
	for i := range c.fn.results {
		c.fn.results[i].offset = c.region.offset(c.resultPlaces[i])
	}
}
