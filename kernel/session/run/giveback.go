package run

import "golang.org/x/tools/go/ssa"

// Finished lets go of functions that nothing can call by name any more, such as the statements of a
// cell that has run, and of their bodies. Function values made of them, and goroutines that run them,
// keep what they need.
func (m *Machine) Finished(functions ...*ssa.Function) {
	m.compiling.Lock()
	defer m.compiling.Unlock()
	for _, f := range functions {
		m.finish(f)
	}
}

func (m *Machine) finish(f *ssa.Function) {
	known, ok := m.functions.LoadAndDelete(f)
	if !ok || !known.(*function).ready.Load() {
		return
	}
	for _, inner := range f.AnonFuncs {
		m.finish(inner)
	}
	known.(*function).source = nil
	// The program keeps its functions for ever, so what they consist of must go.
	*f = ssa.Function{}
}

// Release lets go of variables that nothing can name any more. Functions that use one keep it.
func (m *Machine) Release(variables ...*ssa.Global) {
	for _, v := range variables {
		m.globals.Delete(v)
	}
}
