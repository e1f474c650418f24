// Package display turns values into what front ends show: bundles of media
// types, and errors into the lines of a traceback.
//
// A value says how it is shown by plain methods, which any program may give its
// types without knowing of the kernel:
//
//	HTML() string          text/html
//	Markdown() string      text/markdown
//	LaTeX() string         text/latex
//	SVG() string or []byte image/svg+xml
//	PNG() []byte           image/png
//	PDF() []byte           application/pdf
//	String() string        text/plain
//
// Each may also return an error beside its result. A method that fails or
// panics leaves its media type out, and what went wrong is said in the text;
// the others are kept.
//
// display never runs a cell and never writes to a front end. Values go in,
// bundles come out. The function to read first is Bundle.
package display
