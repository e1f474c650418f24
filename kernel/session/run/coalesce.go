package run

import "golang.org/x/tools/go/ssa"

// coalesce lets what a loop computes for its next turn be written where the next turn looks for it:
// a value that only feeds a phi shares the phi's place, which saves the move on the way back. It may
// when nothing looks at the phi's present value after the new one has been computed.
func coalesce(source *ssa.Function) map[ssa.Value]*ssa.Phi {
	shared := map[ssa.Value]*ssa.Phi{}
	taken := map[*ssa.Phi]bool{}
	for _, to := range source.Blocks {
		for k, from := range to.Preds {
			if len(from.Succs) != 1 {
				continue
			}
			order := map[ssa.Instruction]int{}
			for i, in := range from.Instrs {
				order[in] = i
			}
			for _, in := range to.Instrs {
				phi, ok := in.(*ssa.Phi)
				if !ok {
					break
				}
				v := phi.Edges[k]
				if _, ok := shared[v]; !ok && !taken[phi] && canShare(phi, v, k, order) {
					shared[v], taken[phi] = phi, true
				}
			}
		}
	}
	return shared
}

// canShare looks at one phi and its k-th edge; order numbers the steps of the block it comes from.
func canShare(phi *ssa.Phi, v ssa.Value, k int, order map[ssa.Instruction]int) bool {
	in, ok := v.(ssa.Instruction)
	if !ok {
		return false
	}
	made, ok := order[in]
	if !ok || !writesOnce(v) {
		return false
	}
	for _, user := range *v.Referrers() {
		if _, here := order[user]; !here && !onlyOnEdge(user, phi.Block(), v, k) {
			return false
		}
	}
	for _, user := range *phi.Referrers() {
		if i, here := order[user]; here && i > made {
			return false
		}
		if other, ok := user.(*ssa.Phi); ok && other.Block() == phi.Block() && other.Edges[k] == phi {
			return false
		}
	}
	return true
}

// onlyOnEdge reports whether the user is a phi of the block that takes v on its k-th edge alone.
func onlyOnEdge(user ssa.Instruction, block *ssa.BasicBlock, v ssa.Value, k int) bool {
	phi, ok := user.(*ssa.Phi)
	if !ok || phi.Block() != block {
		return false
	}
	for i, e := range phi.Edges {
		if (e == v) != (i == k) {
			return false
		}
	}
	return true
}

// writesOnce reports whether the step of v reads all it needs before it writes its result.
func writesOnce(v ssa.Value) bool {
	switch v := v.(type) {
	case *ssa.BinOp:
		return true
	case *ssa.Call:
		b, ok := v.Call.Value.(*ssa.Builtin)
		return ok && b.Name() == "append"
	}
	return false
}

// thread lets a block that jumps to a short one, such as the condition of a loop, do the other's steps
// itself.
func (f *function) thread() {
	const short = 3
	for _, b := range f.blocks {
		if b.kind != jump {
			continue
		}
		to := b.to[0]
		if to.kind != branch || len(to.ops) > short || to == b {
			continue
		}
		b.ops = append(append(b.ops[:len(b.ops):len(b.ops)], b.moves[0]...), to.ops...)
		back := b.back[0]
		b.kind, b.condition, b.to, b.moves = branch, to.condition, to.to, to.moves
		b.back = [2]bool{to.back[0] || back, to.back[1] || back}
	}
}
