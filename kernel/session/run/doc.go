// Package run executes what package build made of a cell: functions in SSA form.
//
// In goes an *ssa.Function whose packages belong to one *ssa.Program; out comes its effect on the
// session's variables, or a Failure with Go's own message, the line, and the calls that led there.
// It never parses, never checks types and never talks to a front end.
//
// Read [Machine] first, then [function]: each ssa.Function is compiled once into a list of small Go
// closures over a frame. A frame is one block of memory in which every SSA value lies in the layout
// that compiled Go code would give it, so that memory is shared with compiled packages and nothing
// is boxed.
//
// The package is portable Go: no assembly, no linkname, no copy of a runtime structure. Layouts come
// from package reflect (layout.go); static types from go/types remain the truth. Three kinds of value
// lie differently in a cell's memory than in compiled code, and are converted where they cross:
//
//   - functions are *closure, so that calls between interpreted functions skip reflection;
//   - interfaces that a cell declares are any, for reflect cannot make interface types;
//   - in an interface, a value whose type reflect cannot name is a box (box.go): a comparable pair of
//     a type record and the value. Compiled interfaces see it through an adapter of package symbols.
package run
