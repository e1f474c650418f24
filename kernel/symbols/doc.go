// Package symbols holds what a cell may import: Go's standard library and the
// packages of cobber/stdlib.
//
// In goes the path of a package and a name in it. Out come its types for the
// checker (Import, from embedded export data), its compiled functions,
// variables and types for the executor (Lookup, Method, FastCall), the text of
// the few packages that are executed from source because they are generic
// (Source, Overlay), and adapters that let a value of a session stand behind a
// compiled interface (NewAdapter).
//
// It never reads a Go installation, never looks at a cell, and keeps no state
// of a session. Types and values come from one toolchain in one run of
// kernel/symbols/generate, so they cannot disagree.
//
// The type to read first is Receiver: it is all that compiled code knows of a
// session.
package symbols

//go:generate go run ./generate
