// Package notebook reads and writes notebook files (.ipynb) and runs them
// without a front end.
//
// Read takes the bytes of a file of notebook format 4.0 to 4.5 and returns a
// Notebook, or a *FormatError that names the place. Write returns the bytes of
// format 4.5 laid out as Jupyter lays them out, so that a notebook which passes
// through here differs only where its content does: keys sorted, one space of
// indentation, long text as a list of lines, keys it does not know kept.
//
// Run executes the code cells of a Notebook in order through a Session and
// collects what they print and show exactly as a front end does.
//
// The package never draws: the HTML page of a notebook is package page. It
// never starts a kernel process, and it never changes a file.
//
// Read first: Notebook.
package notebook
