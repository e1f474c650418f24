// Package docs holds the documentation that completion and inspection show, of
// all that a cell may import.
//
// In goes the path of a package and a name in it; out come the declaration and
// the text of its doc comment, in full for cobber/stdlib and the first
// paragraph for Go's standard library. It never reads source files: the text
// is written by kernel/symbols/generate, in the run that writes the types.
package docs
